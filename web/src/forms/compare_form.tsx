// SPDX-License-Identifier: MIT
// "With other settings or another cell": two forecasts side by side for what was typed in.
import { useState } from "preact/hooks";
import { household_path, send_once } from "../api/client";
import type { Problem, SideBySide } from "../api/types";
import { Beside } from "../parts/beside";
import { Fault } from "../parts/fault";
import { Choices, Select } from "../parts/fields";
import { Screen } from "../parts/screen";
import type { Desk } from "../state/desk";
import { useDraft, type Draft } from "../state/draft";
import { side_name } from "../words/names";
import { compare_model, prefix_of, types_of } from "./compare_model";
import { field } from "./context";
import { FillIn, SettingsFields } from "./settings_fields";
import { SideField, sides_of } from "./side";
import { context_of } from "./context_of";
import { focus_first_error, refused_fields, type FormProps } from "./use_form";
import { tell } from "../words/catalogue/plan";

const kinds = [
  { value: "settings", words: tell("compare_form.other_settings") },
  { value: "cell", words: tell("compare_form.another_cell"), hint: tell("compare_form.as_if_fresh_ones_went_in") },
  { value: "both", words: tell("compare_form.both") },
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
    const answer = await send_once<SideBySide>("POST", `${household_path(desk.name)}/what-if`, body);
    set_told(answer);
    set_asking(false);
    if ("got" in answer) requestAnimationFrame(() => document.getElementById("beside-name")?.focus());
    else focus_first_error();
  };
  return { told, asking, ask, forget: () => set_told(null), errors: { ...(tried ? errors : {}), ...refused.at }, rest: refused.rest };
}

export function CompareForm({ desk, given, done }: FormProps) {
  const { draft, change: set_draft } = useDraft(desk.name, "compare", given);
  const { told, asking, ask, forget, errors, rest } = useAnswer(desk, draft);
  const context = context_of(desk);
  const change = (part: Draft): void => {
    forget();
    set_draft(part);
  };
  const form = { draft, change, errors, context };
  const sides = sides_of(draft);
  const submit = (event: Event): void => {
    event.preventDefault();
    void ask();
  };
  return (
    <Screen title={tell("compare_form.with_other_settings_or_another_cell")} back={done}>
      <p class="told">{tell("compare_form.settings_are_the_clinician_s_to")}</p>
      <form onSubmit={submit} noValidate>
        <SideField form={form} both />
        <Choices {...field(form, "what")} legend={tell("compare_form.what_is_typed_in")} choices={kinds} />
        {(draft.what === "cell" || draft.what === "both") && (
          <Select {...field(form, "cell")} legend={tell("compare_form.type_of_the_cells")} choices={types_of(context)} />
        )}
        {(draft.what === "settings" || draft.what === "both") && sides.map((side) => (
          <section key={side} aria-labelledby={`${side}-settings`}>
            <h2 class="part" id={`${side}-settings`}>{tell("compare_form.settings", { side: side_name[side] })}</h2>
            <FillIn side={side} context={context} change={change} prefix={prefix_of(side)} />
            <SettingsFields form={form} prefix={prefix_of(side)} />
          </section>
        ))}
        {rest.map((error) => <Fault key={error} role="alert" error={error} />)}
        {told && "no_signal" in told && <p role="alert">{tell("compare_form.no_signal_this_cannot_be_worked")}</p>}
        <button class="main" type="submit" disabled={asking}>
          {asking ? tell("compare_form.working_it_out") : tell("compare_form.work_it_out")}
        </button>
      </form>
      {told && "got" in told && <Beside answer={told.got} sides={sides} now={desk.value.now} />}
    </Screen>
  );
}
