// SPDX-License-Identifier: MIT
// "Going away": from and to; the answer is a packing list on the first screen.
import { Choices, Input } from "../parts/fields";
import { away_fields, away_model } from "./away_model";
import { field } from "./context";
import { FormFrame } from "./frame";
import { useForm, type FormProps } from "./use_form";

const clocks = [
  { value: "same", words: "The same as at home" },
  { value: "other", words: "Others" },
];

export function AwayForm(props: FormProps) {
  const form = useForm({ ...props, name: "away", model_of: away_model, fields: away_fields });
  const { draft } = form;
  return (
    <FormFrame title="Going away" form={form} back={props.done} send_words="Record, and say what to pack">
      <Input {...field(form, "from")} legend="Leaving on" type="date" />
      <Input {...field(form, "to")} legend="Back on" type="date" />
      <Choices {...field(form, "clocks", "same")} legend="Clocks there show" inline choices={clocks} />
      {draft.clocks === "other" && (
        <>
          <Input {...field(form, "zone")} legend="Zone there: continent/town" max_length={60} />
          <p class="told">All of both days counts as away: this page then tells times by the clocks there.</p>
        </>
      )}
      <Input {...field(form, "changing_time")} legend="Cells are changed there at, if at another time" type="time" />
    </FormFrame>
  );
}
