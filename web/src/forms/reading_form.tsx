// SPDX-License-Identifier: MIT
// "Note a reading": the gauge as the unit shows it, or volts, or that the side stopped.
import { Choices, Input } from "../parts/fields";
import { conditions } from "../words/names";
import type { Draft } from "../state/draft";
import { field } from "./context";
import { FormFrame } from "./frame";
import { gauge_steps, reading_fields, reading_model, unit_in_use } from "./reading_model";
import { SideField } from "./side";
import { useForm, type Form, type FormProps } from "./use_form";
import { When } from "./when";

const kinds = [
  { value: "gauge", words: "The unit's gauge" },
  { value: "volts", words: "Volts, from a voltmeter" },
  { value: "stopped", words: "This side stopped" },
];

function step_choices(steps: number): { value: string; words: string }[] {
  return Array.from({ length: steps + 1 }, (_, index) => {
    const step = steps - index;
    const words = step === steps ? ", the highest" : step === 0 ? ", nothing shown" : step === 1 ? ", the lowest" : "";
    return { value: String(step), words: `${step} of ${steps}${words}` };
  });
}

function Gauge(form: Form) {
  const steps = gauge_steps(form.context.household);
  if (steps) {
    return (
      <Choices {...field(form, "step")} legend="The unit shows" choices={step_choices(steps)} />
    );
  }
  return (
    <Input {...field(form, "percent")} legend="The unit shows" keys="numeric" after="%" max_length={5} />
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
        name="volts_how" legend="Measured" value={how} onChange={(volts_how) => change({ volts_how })}
        choices={[{ value: "set", words: cells === 2 ? "Both cells together" : "All cells together" }, { value: "each", words: "Each cell alone" }]}
      />
      {how === "set" ? volts("set_V", "Volts together") : Array.from({ length: cells }, (_, index) => volts(`cell_V_${index}`, `Cell ${index + 1}`))}
    </>
  );
}

export function ReadingForm(props: FormProps) {
  const form = useForm({ ...props, name: "reading", model_of: reading_model, fields: reading_fields });
  const { draft, change } = form;
  const seen = draft.seen ?? "gauge";
  return (
    <FormFrame title="Note a reading" form={form} back={props.done}>
      <SideField form={form} />
      <Choices name="seen" legend="What was seen" value={seen} choices={kinds} onChange={(value) => change({ seen: value })} />
      {seen === "gauge" && <Gauge {...form} />}
      {seen === "volts" && <Volts {...form} />}
      {seen !== "stopped" && (
        <Choices
          {...field(form, "condition", "pacing")} legend="This side was then" inline
          choices={Object.entries(conditions).map(([value, words]) => ({ value, words }))}
        />
      )}
      <When form={form} />
    </FormFrame>
  );
}
