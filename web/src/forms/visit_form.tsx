// SPDX-License-Identifier: MIT
// "A visit that wants fresh cells".
import { Input } from "../parts/fields";
import { field } from "./context";
import { FormFrame } from "./frame";
import { SideField } from "./side";
import { useForm, type FormProps } from "./use_form";
import { visit_fields, visit_model } from "./visit_model";

export function VisitForm(props: FormProps) {
  const form = useForm({ ...props, name: "visit", model_of: visit_model, fields: visit_fields });
  return (
    <FormFrame title="A visit that wants fresh cells" form={form} back={props.done}>
      <p class="told">The cells are then to be changed at the last changing time before it.</p>
      <SideField form={form} both />
      <Input {...field(form, "visit_at")} legend={`Day and time of the visit, by the clock ${form.context.place ?? "at home"}`} type="datetime-local" />
      <Input {...field(form, "note")} legend="Where, if you like" max_length={60} />
    </FormFrame>
  );
}
