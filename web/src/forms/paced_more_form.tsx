// SPDX-License-Identifier: MIT
// "Paced more for now".
import { Choices, Input } from "../parts/fields";
import { field } from "./context";
import { FormFrame } from "./frame";
import { paced_more_fields, paced_more_model } from "./paced_more_model";
import { SideField } from "./side";
import { useForm, type FormProps } from "./use_form";
import { When } from "./when";

const lengths = [
  { value: "all_day", words: "All day" },
  { value: "hours", words: "So many hours a day" },
  { value: "as_set", words: "As long as the settings say" },
];
const ends = [
  { value: "open", words: "Not known yet", hint: "It counts until someone says that it is over. After three days the page asks." },
  { value: "date", words: "Until a day that is known" },
];

export function PacedMoreForm(props: FormProps) {
  const form = useForm({ ...props, name: "paced_more", model_of: paced_more_model, fields: paced_more_fields });
  const { draft, context, errors } = form;
  const how_long = field(form, "how_long");
  const asks_hours = how_long.value === "hours";
  return (
    <FormFrame title="Paced more for now" form={form} back={props.done}>
      <SideField form={form} both />
      <Choices {...how_long} legend="How long" choices={lengths} error={errors.how_long ?? (asks_hours ? undefined : errors.hours)} />
      {asks_hours && (
        <Input {...field(form, "hours")} legend="Hours a day" keys="decimal" after="hours" max_length={5} />
      )}
      <Input {...field(form, "amplitude")} legend="Amplitude, if it was raised" keys="decimal" max_length={7} />
      <When form={form} legend="Since when" />
      <Choices {...field(form, "ends", "open")} legend="Until when" choices={ends} />
      {draft.ends === "date" && (
        <Input {...field(form, "until")} legend={`Day and time of the end, by the clock ${context.place ?? "at home"}`} type="datetime-local" />
      )}
      <Input {...field(form, "why")} legend="Why, if you like" max_length={60} />
    </FormFrame>
  );
}
