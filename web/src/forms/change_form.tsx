// SPDX-License-Identifier: MIT
// "Cells changed".
import { Choices, Input } from "../parts/fields";
import { pieces, reasons } from "../words/names";
import { cell_lots, change_fields, change_model, lot_value, reason_of, type_is_asked } from "./change_model";
import { field } from "./context";
import { FormFrame } from "./frame";
import { SideField } from "./side";
import { useForm, type Form, type FormProps } from "./use_form";
import { When } from "./when";

const labels = [
  { value: "alkaline", words: "Yes: LR6 or alkaline" },
  { value: "rechargeable", words: "No: rechargeable, or another kind" },
  { value: "unknown", words: "Not known" },
];

const ages = [
  { value: "fresh", words: "New" },
  { value: "part_used", words: "Part used" },
  { value: "unknown", words: "Not known" },
];

function Label(form: Form) {
  return (
    <>
      <Choices {...field(form, "label")} legend="Does the label say LR6 or alkaline?" choices={labels} />
      {form.draft.label === "rechargeable" && (
        <p class="told">It will be recorded. This side then has no forecast. Put in new alkaline cells, both of the same type, as soon as there are some.</p>
      )}
    </>
  );
}

function OtherCells(form: Form) {
  return (
    <>
      <Label {...form} />
      <Choices {...field(form, "age", "fresh")} legend="New or used" inline choices={ages} />
      <Input {...field(form, "lot")} legend="Lot number, if there is one" max_length={40} />
      <Input {...field(form, "expires")} legend="Expires (year-month), if it says so" max_length={7} />
    </>
  );
}

export function ChangeForm(props: FormProps) {
  const form = useForm({ ...props, name: "change", model_of: change_model, fields: change_fields });
  const { draft, change, context, errors } = form;
  const lots = cell_lots(context).map((lot, index) => ({
    value: lot_value(lot),
    words: [lot.lot ? `Lot ${lot.lot}` : "No lot number", lot.place].filter(Boolean).join(", "),
    hint: [index === 0 && "Take these first", pieces(lot.quantity, "cells"), lot.expires && `expires ${lot.expires}`].filter(Boolean).join(" · "),
  }));
  const cells = [...lots, { value: "other", words: "Other cells" }, { value: "unknown", words: "Not known" }];
  return (
    <FormFrame title="Cells changed" form={form} back={props.done}>
      <SideField form={form} both />
      <When form={form} evening />
      <Choices
        name="reason" legend="Why" inline value={reason_of(draft, context)} error={errors.reason} onChange={(reason) => change({ reason })}
        choices={Object.entries(reasons).map(([value, words]) => ({ value, words }))}
      />
      <Choices {...field(form, "cells")} legend="Which cells went in" choices={cells} />
      {draft.cells === "other" && <OtherCells {...form} />}
      {type_is_asked(draft, context) && <Label {...form} />}
    </FormFrame>
  );
}
