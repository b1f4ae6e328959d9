// SPDX-License-Identifier: MIT
// "Cells changed".
import { Choices, Input } from "../parts/fields";
import { pieces, reasons } from "../words/names";
import { cell_lots, change_fields, change_model, lot_value, reason_of, type_is_asked } from "./change_model";
import { FormFrame } from "./frame";
import { SideField } from "./side";
import { useForm, type Form, type FormSetup } from "./use_form";
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

function Label({ draft, change, errors }: Form) {
  return (
    <>
      <Choices
        name="label" legend="Does the label say LR6 or alkaline?" value={draft.label ?? ""} choices={labels} error={errors.label}
        onChange={(label) => change({ label })}
      />
      {draft.label === "rechargeable" && (
        <p class="told">It will be recorded. This side then has no forecast. Put in new alkaline cells, both of the same type, as soon as there are some.</p>
      )}
    </>
  );
}

function OtherCells(form: Form) {
  const { draft, change, errors } = form;
  return (
    <>
      <Label {...form} />
      <Choices name="age" legend="New or used" inline value={draft.age ?? "fresh"} choices={ages} error={errors.age} onChange={(age) => change({ age })} />
      <Input name="lot" legend="Lot number, if there is one" value={draft.lot ?? ""} error={errors.lot} max_length={40} onChange={(lot) => change({ lot })} />
      <Input
        name="expires" legend="Expires (year-month), if it says so" value={draft.expires ?? ""} error={errors.expires} max_length={7}
        onChange={(expires) => change({ expires })}
      />
    </>
  );
}

export function ChangeForm(props: Omit<FormSetup, "name" | "model_of" | "fields">) {
  const form = useForm({ ...props, name: "change", model_of: change_model, fields: change_fields });
  const { draft, change, context, now, errors } = form;
  const lots = cell_lots(context).map((lot, index) => ({
    value: lot_value(lot),
    words: [lot.lot ? `Lot ${lot.lot}` : "No lot number", lot.place].filter(Boolean).join(", "),
    hint: [index === 0 && "Take these first", pieces(lot.quantity, "cells"), lot.expires && `expires ${lot.expires}`].filter(Boolean).join(" · "),
  }));
  const cells = [...lots, { value: "other", words: "Other cells" }, { value: "unknown", words: "Not known" }];
  return (
    <FormFrame title="Cells changed" form={form} back={props.done}>
      <SideField draft={draft} change={change} errors={errors} both />
      <When draft={draft} change={change} context={context} now={now} errors={errors} evening />
      <Choices
        name="reason" legend="Why" inline value={reason_of(draft, context)} error={errors.reason} onChange={(reason) => change({ reason })}
        choices={Object.entries(reasons).map(([value, words]) => ({ value, words }))}
      />
      <Choices name="cells" legend="Which cells went in" value={draft.cells ?? ""} choices={cells} error={errors.cells} onChange={(value) => change({ cells: value })} />
      {draft.cells === "other" && <OtherCells {...form} />}
      {type_is_asked(draft, context) && <Label {...form} />}
    </FormFrame>
  );
}
