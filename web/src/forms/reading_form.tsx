// SPDX-License-Identifier: MIT
// "Note a reading": the gauge as the unit shows it, or volts, or that the side stopped.
import { Choices, Input } from "../parts/fields";
import { conditions } from "../words/names";
import type { Draft } from "../state/draft";
import { field } from "./context";
import { FormFrame } from "./frame";
import { gauge_steps, reading_fields, reading_model } from "./reading_model";
import { unit_in_use } from "../state/units";
import { SideField } from "./side";
import { useForm, type Form, type FormProps } from "./use_form";
import { When } from "./when";
import { tell } from "../words/catalogue/record";

const kinds = [
  { value: "gauge", words: tell("reading_form.the_unit_s_gauge") },
  { value: "volts", words: tell("reading_form.volts_from_a_voltmeter") },
  { value: "stopped", words: tell("reading_form.this_side_stopped") },
];

/// A plain scale: every step has words, so that a number misread is noticed.
function step_words(step: number, steps: number): string {
  if (step === 0) return tell("reading_form.nothing_shown");
  if (step === steps) return tell("reading_form.the_highest");
  if (step === 1) return tell("reading_form.the_lowest");
  if (2 * step === steps + 1) return tell("reading_form.the_middle");
  return tell(2 * step > steps ? "reading_form.above_the_middle" : "reading_form.below_the_middle");
}

function step_choices(steps: number): { value: string; words: string }[] {
  return Array.from({ length: steps + 1 }, (_, index) => {
    const step = steps - index;
    const words = step_words(step, steps);
    return { value: String(step), words: tell("reading_form.of", { step, steps, words }) };
  });
}

function Gauge(form: Form) {
  const steps = gauge_steps(form.context.household);
  if (steps) {
    return (
      <Choices {...field(form, "step")} legend={tell("reading_form.the_unit_shows")} choices={step_choices(steps)} />
    );
  }
  return (
    <Input {...field(form, "percent")} legend={tell("reading_form.the_unit_shows")} keys="numeric" after="%" max_length={5} />
  );
}

function Volts({ draft, change, errors, context }: Form) {
  const cells = unit_in_use(context.household)?.cells_in_series ?? 2;
  const how = draft.volts_how ?? "set";
  const volts = (name: string, legend: string) => (
    <Input
      key={name} name={name} legend={legend} keys="decimal" after="V" value={draft[name] ?? ""} error={errors[name]} max_length={6}
      onChange={(value) => change({ [name]: value } as Draft)}
    />
  );
  return (
    <>
      <Choices
        name="volts_how" legend={tell("reading_form.measured")} value={how} onChange={(volts_how) => change({ volts_how })}
        choices={[{ value: "set", words: cells === 2 ? tell("reading_form.both_cells_together") : tell("reading_form.all_cells_together") }, { value: "each", words: tell("reading_form.each_cell_alone") }]}
      />
      {how === "set" ? volts("set_V", tell("reading_form.volts_together")) : Array.from({ length: cells }, (_, index) => volts(`cell_V_${index}`, tell("reading_form.cell", { value: index + 1 })))}
    </>
  );
}

export function ReadingForm(props: FormProps) {
  const form = useForm({ ...props, name: "reading", model_of: reading_model, fields: reading_fields });
  const { draft, change } = form;
  const seen = draft.seen ?? "gauge";
  return (
    <FormFrame title={tell("reading_form.note_a_reading")} form={form} back={props.done}>
      <SideField form={form} />
      <Choices name="seen" legend={tell("reading_form.what_was_seen")} value={seen} choices={kinds} onChange={(value) => change({ seen: value })} />
      {seen === "gauge" && <Gauge {...form} />}
      {seen === "volts" && <Volts {...form} />}
      {seen === "stopped" && <p class="told strong" role="status">{tell("reading_form.look_first")}</p>}
      {seen !== "stopped" && (
        <Choices
          {...field(form, "condition", "pacing")} legend={tell("reading_form.this_side_was_then")} inline
          choices={Object.entries(conditions).map(([value, words]) => ({ value, words }))}
        />
      )}
      <When form={form} />
    </FormFrame>
  );
}
