// SPDX-License-Identifier: MIT
// Handling steps of a unit: the maker's, in plain sentences, with source and date. Homes see them once a second person has
// approved them; until then "Follow the maker's card; wearer awake or on the backup" and nothing else.
import { Fault } from "../parts/fault";
import { Input, Select } from "../parts/fields";
import { useDocument } from "../staff/documents";
import { Page } from "../staff/frame";
import { to } from "../staff/place";
import { error_at } from "./form_parts";
import { useKeptForm } from "./kept_form";
import { useProposing } from "./proposing";
import { ReadBackOf } from "./read_back";

const empty = { stimulator: "", steps: "", source: "", date: "" };

export function StepsForm({ given }: { given: Record<string, string> }) {
  const { form, set, forget } = useKeptForm("steps", { ...empty, stimulator: given["stimulator"] ?? "" });
  const models = useDocument<{ profiles: { id: string }[] }>("/profiles/stimulators");
  const steps = form.steps.split(/\r?\n/).map((one) => one.replace(/^\s*\d+[.)]\s*/, "").trim()).filter(Boolean);
  const proposing = useProposing({ kind: "steps", stimulator: form.stimulator, steps, source: form.source.trim(), date: form.date }, forget);
  const wrong = error_at(proposing.changed ? [] : (proposing.back?.problems ?? []));
  const read = (event: Event): void => {
    event.preventDefault();
    void proposing.read();
  };
  const step_error = wrong("/steps");
  return (
    <Page title="Handling steps" above={{ words: "Profiles", href: to("bench/profiles") }}>
      <p class="text">Copy them from the maker's own instructions, in the order in which they are done. Homes see them with their source and date, after a second person has approved them.</p>
      <form onSubmit={read} noValidate>
        <Select name="stimulator" legend="Of which model" value={form.stimulator} error={wrong("/stimulator")} choices={(models.got?.profiles ?? []).map(({ id }) => ({ value: id, words: id }))} onChange={(stimulator) => set({ stimulator })} />
        <div class={step_error ? "field wrong" : "field"}>
          <label for="input-steps">The steps, a line each, twelve at most</label>
          <textarea id="input-steps" rows={8} value={form.steps} aria-invalid={Boolean(step_error)} aria-describedby={step_error ? "steps-error" : undefined} onInput={(event) => set({ steps: event.currentTarget.value })} />
          {step_error && <Fault error={step_error} id="steps-error" />}
        </div>
        <Input name="source" legend="Source: title and page" value={form.source} max_length={200} error={wrong("/source")} onChange={(source) => set({ source })} />
        <Input name="date" legend="Its date" type="date" value={form.date} error={wrong("/date")} onChange={(date) => set({ date })} />
        {steps.length > 0 && (
          <div class="card">
            <h2>As homes will see them</h2>
            <ol>{steps.map((one) => <li key={one}>{one}</li>)}</ol>
            <p class="small">{[form.source.trim(), form.date].filter(Boolean).join(", ")}</p>
          </div>
        )}
        <button type="submit" disabled={proposing.busy}>
          Read it
        </button>
      </form>
      <ReadBackOf proposing={proposing} />
    </Page>
  );
}
