// SPDX-License-Identifier: MIT
// "Back home": a few questions, each with "I do not know" among its answers.
import { both_sides, type Side } from "../api/types";
import { Choices, Input } from "../parts/fields";
import { place_name } from "../words/names";
import { back_home_fields, back_home_model } from "./back_home_model";
import { cell_lots, lot_value } from "./change_model";
import { field } from "./context";
import { FormFrame } from "./frame";
import { useForm, type Form, type FormProps } from "./use_form";
import { When } from "./when";
import { tell } from "../words/catalogue/plan";

const not_known = { value: "dont_know", words: tell("back_home_form.i_do_not_know") };
const cells = [{ value: "as_before", words: tell("back_home_form.the_same_as_before") }, { value: "fresh", words: tell("back_home_form.fresh_ones") }, not_known];
const settings = [{ value: "as_before", words: tell("back_home_form.as_before") }, { value: "changed", words: tell("back_home_form.changed"), hint: tell("back_home_form.their_form_comes_next") }, not_known];
const units = [{ value: "as_before", words: tell("back_home_form.the_same_unit") }, { value: "changed", words: tell("back_home_form.another_unit"), hint: tell("back_home_form.its_form_comes_next") }, not_known];
const used = [{ value: "yes", words: tell("back_home_form.yes") }, { value: "no", words: tell("back_home_form.no_it_was_off") }, not_known];

function Fresh({ side, form }: { side: Side; form: Form }) {
  const lots = cell_lots(form.context).map((lot) => ({ value: lot_value(lot), words: [lot.lot ? tell("back_home_form.lot", { lot: lot.lot }) : tell("back_home_form.no_lot_number"), place_name(lot.place)].filter(Boolean).join(", ") }));
  return (
    <>
      <Choices
        {...field(form, `${side}_which`)} legend={tell("back_home_form.which")}
        choices={[...lots, { value: "alkaline", words: tell("back_home_form.the_hospital_s_lr6_or_alkaline") }, { value: "unknown", words: tell("back_home_form.another_kind_or_not_known") }]}
      />
      <Input {...field(form, `${side}_at`)} legend={tell("back_home_form.put_in_when_if_it_is")} type="datetime-local" />
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
    <FormFrame title={tell("back_home_form.back_home")} form={form} back={props.done}>
      <p class="told">{tell("back_home_form.what_is_not_answered_counts_as")}</p>
      <When form={form} legend={tell("back_home_form.since_when")} />
      {both_sides.map((side) => (
        <div key={side}>
          {asked(`${side}_are`, tell("back_home_form.the_cells_are", { side }), cells)}
          {draft[`${side}_are`] === "fresh" && <Fresh side={side} form={form} />}
        </div>
      ))}
      {asked("settings", tell("back_home_form.the_settings_are"), settings)}
      {asked("unit", tell("back_home_form.the_unit_is"), units)}
      {asked("unit_used", tell("back_home_form.was_the_household_s_unit_in"), used)}
    </FormFrame>
  );
}
