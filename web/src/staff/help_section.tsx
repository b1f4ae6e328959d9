// SPDX-License-Identifier: MIT
// What the agency enters for "Something is wrong now": the number to call, its own words, and who answers for them.
import "../first_view";
import { useState } from "preact/hooks";
import type { Help } from "../api/types";
import { Input } from "../parts/fields";
import { useAct } from "./act";
import { AskedFor } from "./asked";
import { useDocument } from "./documents";
import { DoneLine } from "./done_line";
import { Page } from "./frame";
import { tell } from "../words/catalogue/staff";

interface Entered {
  help: Help | null;
  entry: number;
  recorded_at: string | null;
}

/// One step a line; what stands after " / " is said smaller.
const as_text = (help: Help | null): string => (help?.steps ?? []).map(({ words, more }) => (more ? `${words} / ${more}` : words)).join("\n");

function as_steps(text: string): { words: string; more?: string }[] {
  const lines = text.split("\n").map((line) => line.trim()).filter(Boolean);
  return lines.map((line) => {
    const [words = "", ...rest] = line.split(" / ");
    return rest.length ? { words, more: rest.join(" / ") } : { words };
  });
}

function Form({ entered, again }: { entered: Entered; again: () => Promise<void> }) {
  const { help, entry } = entered;
  const act = useAct();
  const [number, set_number] = useState(help?.number ?? "");
  const [label, set_label] = useState(help?.label ?? "");
  const [text, set_text] = useState(as_text(help));
  const [by, set_by] = useState(help?.approved_by ?? "");
  const [on, set_on] = useState(help?.approved_on ?? "");
  const error = (place: string): string | undefined => act.errors.find((one) => one.place === place)?.reason;
  const send = async (event: Event): Promise<void> => {
    event.preventDefault();
    const body = { number: number.trim() || null, label: label.trim() || null, steps: as_steps(text), approved_by: by.trim() || null, approved_on: on || null, follows: entry };
    if (!(await act.send("/agency/help", body))) return;
    act.tell({ words: tell("staff.entered_phones_show_it_when_they"), undo: null });
    await again();
  };
  return (
    <form onSubmit={(event) => void send(event)} noValidate>
      <Input name="number" legend={tell("staff.number_to_call")} value={number} onChange={set_number} type="tel" max_length={40} error={error("/number")} />
      <Input name="label" legend={tell("staff.whose_it_is_and_when_they")} value={label} onChange={set_label} max_length={80} error={error("/label")} />
      <p>{tell("staff.it_is_shown_at_once_on")}</p>
      <div class="field" id="field-steps">
        <label for="input-steps">{tell("staff.the_agencys_own_words_one_step")}</label>
        <textarea id="input-steps" name="steps" rows={6} value={text} onInput={(event) => set_text(event.currentTarget.value)} />
      </div>
      <p class="small">
        {tell("staff.where_there_are_none_or_nobody")}
      </p>
      <Input name="approved_by" legend={tell("staff.approved_by_a_role_never_a")} value={by} onChange={set_by} max_length={60} error={error("/approved_by")} />
      <Input name="approved_on" legend={tell("staff.approved_on")} value={on} onChange={set_on} type="date" error={error("/approved_on")} />
      {act.said && (
        <div class="notice" role="alert">
          <p class="strong">{act.said.title}</p>
          {act.said.detail && <p>{act.said.detail}</p>}
        </div>
      )}
      <button type="submit" class="main" disabled={act.busy}>
        {tell("staff.enter_this")}
      </button>
      <DoneLine act={act} />
    </form>
  );
}

export function HelpSection() {
  const asked = useDocument<Entered>("/agency/help");
  return (
    <Page title={tell("staff.something_is_wrong_now")}>
      <p class="text">{tell("staff.what_every_home_of_the_agency")}</p>
      <AskedFor asked={asked}>{(entered) => <Form key={entered.entry} entered={entered} again={asked.again} />}</AskedFor>
    </Page>
  );
}
