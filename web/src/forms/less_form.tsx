// SPDX-License-Identifier: MIT
// "Paced less for now": fewer hours a day, or switched off.
import { Choices, Input } from "../parts/fields";
import { tell } from "../words/catalogue/plan";
import { field } from "./context";
import { FormFrame } from "./frame";
import { less_fields, less_model } from "./less_model";
import { SideField } from "./side";
import { useForm, type FormProps } from "./use_form";
import { When } from "./when";

const hows = [
  { value: "fewer", words: tell("less.fewer_hours") },
  { value: "off", words: tell("less.off") },
];

export function LessForm(props: FormProps) {
  const form = useForm({ ...props, name: "less", model_of: less_model, fields: less_fields });
  return (
    <FormFrame title={tell("less.title")} form={form} back={props.done}>
      <SideField form={form} both />
      <Choices {...field(form, "how")} legend={tell("less.how")} choices={hows} />
      {form.draft.how === "fewer" && <Input {...field(form, "hours")} legend={tell("less.hours")} keys="decimal" after={tell("less.hours_after")} max_length={5} />}
      <When form={form} legend={tell("less.since")} />
      <p class="told">{tell("less.until")}</p>
    </FormFrame>
  );
}
