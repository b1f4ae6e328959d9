// SPDX-License-Identifier: MIT
// "A visit that wants fresh cells".
import { Input } from "../parts/fields";
import { field } from "./context";
import { FormFrame } from "./frame";
import { SideField } from "./side";
import { useForm, type FormProps } from "./use_form";
import { visit_fields, visit_model } from "./visit_model";
import { tell } from "../words/catalogue/plan";

export function VisitForm(props: FormProps) {
  const form = useForm({ ...props, name: "visit", model_of: visit_model, fields: visit_fields });
  return (
    <FormFrame title={tell("visit_form.a_visit_that_wants_fresh_cells")} form={form} back={props.done}>
      <p class="told">{tell("visit_form.the_cells_are_then_to_be")}</p>
      <SideField form={form} both />
      <Input {...field(form, "visit_at")} legend={tell("visit_form.day_and_time_of_the_visit", { value: form.context.place ?? tell("visit_form.at_home") })} type="datetime-local" />
      <Input {...field(form, "note")} legend={tell("visit_form.where_if_you_like")} max_length={60} />
    </FormFrame>
  );
}
