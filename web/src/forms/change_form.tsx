// SPDX-License-Identifier: MIT
// "Cells changed".
import { Choices, Input } from "../parts/fields";
import { is_past_date } from "../state/lots";
import { pieces, place_name, reasons } from "../words/names";
import { cell_lots, change_fields, change_model, filled_in, lot_value, reason_of, type_is_asked } from "./change_model";
import { field } from "./context";
import { FormFrame } from "./frame";
import { SideField } from "./side";
import { useForm, type Form, type FormProps } from "./use_form";
import { When } from "./when";
import { tell } from "../words/catalogue/record";

const labels = [
  { value: "alkaline", words: tell("change_form.yes_lr6_or_alkaline") },
  { value: "rechargeable", words: tell("change_form.no_rechargeable_or_another_kind") },
  { value: "unknown", words: tell("change_form.not_known") },
];

const ages = [
  { value: "fresh", words: tell("change_form.new") },
  { value: "part_used", words: tell("change_form.part_used") },
  { value: "unknown", words: tell("change_form.not_known") },
];

function Label(form: Form) {
  return (
    <>
      <Choices {...field(form, "label")} legend={tell("change_form.does_the_label_say_lr6_or")} choices={labels} />
      {form.draft.label === "rechargeable" && (
        <p class="told">{tell("change_form.it_will_be_recorded_this_side")}</p>
      )}
    </>
  );
}

function OtherCells(form: Form) {
  return (
    <>
      <Label {...form} />
      <Choices {...field(form, "age", "fresh")} legend={tell("change_form.new_or_used")} inline choices={ages} />
      <Input {...field(form, "lot")} legend={tell("change_form.lot_number_if_there_is_one")} max_length={40} />
      <Input {...field(form, "expires")} legend={tell("change_form.expires_year_month_if_it_says")} max_length={7} />
    </>
  );
}

export function ChangeForm(props: FormProps) {
  const form = useForm({ ...props, name: "change", model_of: change_model, fields: change_fields });
  const { change, context, errors, now } = form;
  const draft = filled_in(form.draft, context, now);
  const lots = cell_lots(context).map((lot, index) => ({
    value: lot_value(lot),
    words: [lot.lot ? tell("change_form.lot", { lot: lot.lot }) : tell("change_form.no_lot_number"), place_name(lot.place)].filter(Boolean).join(", "),
    hint: [lot.recalled ? tell("change_form.recalled") : is_past_date(lot, context.household?.as_of) ? tell("change_form.past_its_date") : index === 0 && tell("change_form.take_these_first"), pieces(lot.quantity, "cells"), lot.expires && tell("change_form.expires", { expires: lot.expires })].filter(Boolean).join(" · "),
  }));
  const cells = [...lots, { value: "other", words: tell("change_form.other_cells") }, { value: "unknown", words: tell("change_form.not_known") }];
  return (
    <FormFrame title={tell("change_form.cells_changed")} form={form} back={props.done}>
      <SideField form={form} both />
      <When form={{ ...form, draft }} evening />
      <Choices
        name="reason" legend={tell("change_form.why")} inline value={reason_of(draft, context)} error={errors.reason} onChange={(reason) => change({ reason })}
        choices={Object.entries(reasons).map(([value, words]) => ({ value, words }))}
      />
      <Choices {...field({ ...form, draft }, "cells")} legend={tell("change_form.which_cells_went_in")} choices={cells} />
      {draft.cells === "other" && <OtherCells {...form} />}
      {type_is_asked(draft, context) && <Label {...form} />}
    </FormFrame>
  );
}
