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
import { tell } from "../words/catalogue/bench";

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
    <Page title={tell("bench.handling_steps")} above={{ words: tell("bench.profiles"), href: to("bench/profiles") }}>
      <p class="text">{tell("bench.copy_them_from_the_makers_own")}</p>
      <form onSubmit={read} noValidate>
        <Select name="stimulator" legend={tell("bench.of_which_model")} value={form.stimulator} error={wrong("/stimulator")} choices={(models.got?.profiles ?? []).map(({ id }) => ({ value: id, words: id }))} onChange={(stimulator) => set({ stimulator })} />
        <div class={step_error ? "field wrong" : "field"}>
          <label for="input-steps">{tell("bench.the_steps_a_line_each_twelve")}</label>
          <textarea id="input-steps" rows={8} value={form.steps} aria-invalid={Boolean(step_error)} aria-describedby={step_error ? "steps-error" : undefined} onInput={(event) => set({ steps: event.currentTarget.value })} />
          {step_error && <Fault error={step_error} id="steps-error" />}
        </div>
        <Input name="source" legend={tell("bench.source_title_and_page")} value={form.source} max_length={200} error={wrong("/source")} onChange={(source) => set({ source })} />
        <Input name="date" legend={tell("bench.its_date")} type="date" value={form.date} error={wrong("/date")} onChange={(date) => set({ date })} />
        {steps.length > 0 && (
          <div class="card">
            <h2>{tell("bench.as_homes_will_see_them")}</h2>
            <ol>{steps.map((one) => <li key={one}>{one}</li>)}</ol>
            <p class="small">{[form.source.trim(), form.date].filter(Boolean).join(", ")}</p>
          </div>
        )}
        <button type="submit" disabled={proposing.busy}>
          {tell("bench.read_it")}
        </button>
      </form>
      <ReadBackOf proposing={proposing} />
    </Page>
  );
}
