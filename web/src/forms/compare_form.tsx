// SPDX-License-Identifier: MIT
// "With other settings or another cell": two forecasts side by side for what was typed in.
import { useState } from "preact/hooks";
import { household_path, work_out } from "../api/client";
import type { Problem, SideBySide } from "../api/types";
import { Beside } from "../parts/beside";
import { Choices, Select } from "../parts/fields";
import { Screen } from "../parts/screen";
import type { Desk } from "../state/desk";
import { useDraft, type Draft } from "../state/draft";
import { side_name } from "../words/names";
import { compare_model, prefix_of, types_of } from "./compare_model";
import { field } from "./context";
import { FillIn, SettingsFields } from "./settings_fields";
import { SideField, sides_of } from "./side";
import { context_of, focus_first_error, refused_fields, type FormProps } from "./use_form";

const kinds = [
  { value: "settings", words: "Other settings" },
  { value: "cell", words: "Another cell", hint: "as if fresh ones went in now" },
  { value: "both", words: "Both" },
];

type Told = { got: SideBySide } | { problem: Problem } | { no_signal: true } | null;

function useAnswer(desk: Desk, draft: Draft) {
  const [told, set_told] = useState<Told>(null);
  const [tried, set_tried] = useState(false);
  const [asking, set_asking] = useState(false);
  const { errors, body, fields } = compare_model(draft);
  const refused = refused_fields(told && "problem" in told ? told.problem : null, fields);
  const ask = async (): Promise<void> => {
    set_tried(true);
    set_told(null);
    if (Object.keys(errors).length) return focus_first_error();
    set_asking(true);
    const answer = await work_out<SideBySide>(`${household_path(desk.name)}/what-if`, body);
    set_told(answer);
    set_asking(false);
    if ("got" in answer) requestAnimationFrame(() => document.getElementById("beside-name")?.focus());
    else focus_first_error();
  };
  return { told, asking, ask, forget: () => set_told(null), errors: { ...(tried ? errors : {}), ...refused.at }, rest: refused.rest };
}

export function CompareForm({ desk, given, done }: FormProps) {
  const [draft, set_draft] = useDraft(desk.name, "compare", given);
  const { told, asking, ask, forget, errors, rest } = useAnswer(desk, draft);
  const context = context_of(desk);
  const change = (part: Draft): void => {
    forget();
    set_draft(part);
  };
  const form = { draft, change, errors };
  const sides = sides_of(draft);
  const submit = (event: Event): void => {
    event.preventDefault();
    void ask();
  };
  return (
    <Screen title="With other settings or another cell" back={done}>
      <p class="told">Settings are the clinician's to change; this only works out what follows. Nothing is recorded.</p>
      <form onSubmit={submit} noValidate>
        <SideField form={form} both />
        <Choices {...field(form, "what")} legend="What is typed in" choices={kinds} />
        {(draft.what === "cell" || draft.what === "both") && (
          <Select {...field(form, "cell")} legend="Type of the cells" choices={types_of(context)} />
        )}
        {(draft.what === "settings" || draft.what === "both") && sides.map((side) => (
          <section key={side} aria-labelledby={`${side}-settings`}>
            <h2 class="part" id={`${side}-settings`}>{`${side_name[side]} settings`}</h2>
            <FillIn side={side} context={context} change={change} prefix={prefix_of(side)} />
            <SettingsFields form={form} prefix={prefix_of(side)} />
          </section>
        ))}
        {rest.map((error) => (
          <p class="error" role="alert" key={error}>
            {error}
          </p>
        ))}
        {told && "no_signal" in told && <p role="alert">No signal: this cannot be worked out now.</p>}
        <button class="main" type="submit" disabled={asking}>
          {asking ? "Working it out…" : "Work it out"}
        </button>
      </form>
      {told && "got" in told && <Beside answer={told.got} sides={sides} now={desk.value.now} />}
    </Screen>
  );
}
