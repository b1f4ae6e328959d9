// SPDX-License-Identifier: MIT
// "Going away": from and to; the answer is a packing list on the first screen.
import { Choices, Input } from "../parts/fields";
import { away_fields, away_model } from "./away_model";
import { field } from "./context";
import { FormFrame } from "./frame";
import { useForm, type FormProps } from "./use_form";
import { tell } from "../words/catalogue/record";

const clocks = [
  { value: "same", words: tell("away_form.the_same_as_at_home") },
  { value: "other", words: tell("away_form.others") },
];

export function AwayForm(props: FormProps) {
  const form = useForm({ ...props, name: "away", model_of: away_model, fields: away_fields });
  const { draft } = form;
  return (
    <FormFrame title={tell("away_form.going_away")} form={form} back={props.done} send_words={tell("away_form.record_and_say_what_to_pack")}>
      <Input {...field(form, "from")} legend={tell("away_form.leaving_on")} type="date" />
      <Input {...field(form, "to")} legend={tell("away_form.back_on")} type="date" />
      <Choices {...field(form, "clocks", "same")} legend={tell("away_form.clocks_there_show")} inline choices={clocks} />
      {draft.clocks === "other" && (
        <>
          <Input {...field(form, "zone")} legend={tell("away_form.zone_there_continent_town")} max_length={60} />
          <p class="told">{tell("away_form.all_of_both_days_counts_as")}</p>
        </>
      )}
      <Input {...field(form, "changing_time")} legend={tell("away_form.cells_are_changed_there_at_if")} type="time" />
    </FormFrame>
  );
}
