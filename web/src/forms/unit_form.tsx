// SPDX-License-Identifier: MIT
// "The unit changes": a spare put into service, or a unit that is new here.
import { useEffect, useState } from "preact/hooks";
import { get } from "../api/client";
import { both_sides, type Side } from "../api/types";
import { Choices, Input, Select } from "../parts/fields";
import { place_name } from "../words/names";
import type { Draft } from "../state/draft";
import { cell_lots, lot_value } from "./change_model";
import { field } from "./context";
import { FormFrame } from "./frame";
import { another, gauge_told, is_in_use, unit_fields, unit_model, units_of } from "./unit_model";
import { unit_in_use } from "../state/units";
import { useForm, type Form, type FormProps } from "./use_form";
import { When } from "./when";
import { tell } from "../words/catalogue/plan";

const uses = [
  { value: "no", words: tell("unit_form.in_use") },
  { value: "yes", words: tell("unit_form.kept_as_a_spare") },
];

function NewHere(form: Form) {
  const [types, set_types] = useState<string[]>([]);
  useEffect(() => {
    let here = true;
    void get<{ profiles: { id: string }[] }>("/profiles/stimulators").then((answer) => {
      if (here && "got" in answer) set_types(answer.got.profiles.map((profile) => profile.id));
    });
    return () => {
      here = false;
    };
  }, []);
  return (
    <>
      <Input {...field(form, "serial")} legend={tell("unit_form.serial_number")} max_length={60} />
      <Select {...field(form, "stimulator")} legend={tell("unit_form.type")} choices={types.map((id) => ({ value: id, words: id }))} />
      <Choices {...field(form, "spare", "no")} legend={tell("unit_form.it_is_then")} inline choices={uses} />
    </>
  );
}

/// Not answered: not known, and nothing is recorded of it.
function InTheUnit({ form, side }: { form: Form; side: Side }) {
  const { draft, context } = form;
  const steps = gauge_told(draft, context);
  const lots = cell_lots(context).map((lot) => ({ value: lot_value(lot), words: [lot.lot ? tell("back_home_form.lot", { lot: lot.lot }) : tell("back_home_form.no_lot_number"), place_name(lot.place)].filter(Boolean).join(", ") }));
  const cells = [{ value: "same", words: tell("in_the_unit.the_same_cells") }, ...lots, { value: "alkaline", words: tell("in_the_unit.other_fresh") }, { value: "unknown", words: tell("in_the_unit.not_known") }];
  return (
    <>
      <Choices {...field(form, `${side}_in`)} legend={tell("in_the_unit.which_cells", { side })} choices={cells} />
      {steps !== undefined && <Input {...field(form, `${side}_gauge`)} legend={steps ? tell("in_the_unit.gauge_steps", { side, steps }) : tell("in_the_unit.gauge_percent", { side })} keys="numeric" max_length={5} />}
    </>
  );
}

/// What the gauge of a type shows is told by its profile.
async function gauge_of(stimulator: string): Promise<Draft> {
  const answer = await get<{ gauge?: { steps?: number | null } }>(`/profiles/stimulators/${encodeURIComponent(stimulator)}`);
  return "got" in answer && answer.got.gauge ? { gauge_of: `${stimulator} ${answer.got.gauge.steps ?? 0}` } : {};
}

export function UnitForm(props: FormProps) {
  const form = useForm({ ...props, name: "unit", model_of: unit_model, fields: unit_fields });
  const { draft, change, context, now } = form;
  const type = draft.unit === another ? draft.stimulator : "";
  useEffect(() => {
    if (!type) return undefined;
    let here = true;
    void gauge_of(type).then((told) => here && told.gauge_of && change(told));
    return () => {
      here = false;
    };
  }, [type]);
  const used = unit_in_use(context.household);
  const known = units_of(context).map(({ serial, spare }) => ({ value: serial, words: tell("unit_form.unit", { serial }), hint: spare ? tell("unit_form.the_spare") : undefined }));
  const choose = (unit: string): void => change({ unit, ...(unit !== another && { spare: "no" }) });
  return (
    <FormFrame title={tell("unit_form.the_unit_changes")} form={form} back={props.done}>
      <p class="told">{used ? tell("unit_form.in_use_as_recorded_unit", { serial: used.serial }) : tell("unit_form.which_unit_is_in_use_is")}</p>
      <Choices {...field(form, "unit")} legend={tell("unit_form.which_unit_comes_into_use")} choices={[...known, { value: another, words: tell("unit_form.another_one") }]} onChange={choose} />
      {draft.unit === another && <NewHere {...form} />}
      <When form={form} legend={tell("unit_form.from_when")} />
      {draft.unit && is_in_use(draft, context, now) && both_sides.map((side) => <InTheUnit key={side} form={form} side={side} />)}
    </FormFrame>
  );
}
