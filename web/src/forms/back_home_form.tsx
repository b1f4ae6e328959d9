// SPDX-License-Identifier: MIT
// "Back home": a few questions, each with "I do not know" among its answers.
import { both_sides, type Side } from "../api/types";
import { Choices, Input } from "../parts/fields";
import { back_home_fields, back_home_model } from "./back_home_model";
import { cell_lots, lot_value } from "./change_model";
import { field } from "./context";
import { FormFrame } from "./frame";
import { useForm, type Form, type FormProps } from "./use_form";
import { When } from "./when";

const not_known = { value: "dont_know", words: "I do not know" };
const cells = [{ value: "as_before", words: "The same as before" }, { value: "fresh", words: "Fresh ones" }, not_known];
const settings = [{ value: "as_before", words: "As before" }, { value: "changed", words: "Changed", hint: "Their form comes next." }, not_known];
const units = [{ value: "as_before", words: "The same unit" }, { value: "changed", words: "Another unit", hint: "Its form comes next." }, not_known];
const used = [{ value: "yes", words: "Yes" }, { value: "no", words: "No, it was off" }, not_known];

function Fresh({ side, form }: { side: Side; form: Form }) {
  const lots = cell_lots(form.context).map((lot) => ({ value: lot_value(lot), words: [lot.lot ? `Lot ${lot.lot}` : "No lot number", lot.place].filter(Boolean).join(", ") }));
  return (
    <>
      <Choices
        {...field(form, `${side}_which`)} legend="Which"
        choices={[...lots, { value: "alkaline", words: "The hospital's: LR6 or alkaline" }, { value: "unknown", words: "Another kind, or not known" }]}
      />
      <Input {...field(form, `${side}_at`)} legend="Put in when, if it is known" type="datetime-local" />
    </>
  );
}

export function BackHomeForm(props: FormProps) {
  const form = useForm({ ...props, name: "back_home", model_of: back_home_model, fields: back_home_fields });
  const { draft } = form;
  const asked = (name: string, legend: string, choices: typeof settings) => (
    <Choices {...field(form, name)} legend={legend} choices={choices} />
  );
  return (
    <FormFrame title="Back home" form={form} back={props.done}>
      <p class="told">What is not answered counts as not known. In doubt, fresh cells in both sides.</p>
      <When form={form} legend="Since when" />
      {both_sides.map((side) => (
        <div key={side}>
          {asked(`${side}_are`, `The ${side} cells are`, cells)}
          {draft[`${side}_are`] === "fresh" && <Fresh side={side} form={form} />}
        </div>
      ))}
      {asked("settings", "The settings are", settings)}
      {asked("unit", "The unit is", units)}
      {asked("unit_used", "Was the household's unit in use in hospital", used)}
    </FormFrame>
  );
}
