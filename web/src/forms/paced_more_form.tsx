// SPDX-License-Identifier: MIT
// "Paced more for now".
import { Choices, Input } from "../parts/fields";
import { field } from "./context";
import { FormFrame } from "./frame";
import { paced_more_fields, paced_more_model } from "./paced_more_model";
import { SideField } from "./side";
import { useForm, type FormProps } from "./use_form";
import { When } from "./when";
import { tell } from "../words/catalogue/plan";

const lengths = [
  { value: "all_day", words: tell("paced_more_form.all_day") },
  { value: "hours", words: tell("paced_more_form.so_many_hours_a_day") },
  { value: "as_set", words: tell("paced_more_form.as_long_as_the_settings_say") },
];
const ends = [
  { value: "open", words: tell("paced_more_form.not_known_yet"), hint: tell("paced_more_form.it_counts_until_someone_says_that") },
  { value: "date", words: tell("paced_more_form.until_a_day_that_is_known") },
];

export function PacedMoreForm(props: FormProps) {
  const form = useForm({ ...props, name: "paced_more", model_of: paced_more_model, fields: paced_more_fields });
  const { draft, context, errors } = form;
  const how_long = field(form, "how_long");
  const no_mains = draft.mains === "none";
  const asks_hours = how_long.value === "hours";
  return (
    <FormFrame title={tell(no_mains ? "plans.no_mains" : "paced_more_form.paced_more_for_now")} form={form} back={props.done}>
      {no_mains && <p class="told">{tell("paced_more_form.no_mains")}</p>}
      <SideField form={form} both />
      <Choices {...how_long} legend={tell("paced_more_form.how_long")} choices={lengths} error={errors.how_long ?? (asks_hours ? undefined : errors.hours)} />
      {asks_hours && (
        <Input {...field(form, "hours")} legend={tell("paced_more_form.hours_a_day")} keys="decimal" after={tell("paced_more_form.hours")} max_length={5} />
      )}
      <Input {...field(form, "amplitude")} legend={tell("paced_more_form.amplitude_if_it_was_raised")} keys="decimal" max_length={7} />
      <When form={form} legend={tell("paced_more_form.since_when")} />
      <Choices {...field(form, "ends", "open")} legend={tell("paced_more_form.until_when")} choices={ends} />
      {draft.ends === "date" && (
        <Input {...field(form, "until")} legend={tell("paced_more_form.day_and_time_of_the_end", { value: context.place ?? tell("paced_more_form.at_home") })} type="datetime-local" />
      )}
      {!no_mains && <Input {...field(form, "why")} legend={tell("paced_more_form.why_if_you_like")} max_length={60} />}
    </FormFrame>
  );
}
