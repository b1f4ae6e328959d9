// SPDX-License-Identifier: MIT
// What became of a finding, and what someone does with it: seen, taken on, closed with a reason. Each can be undone: a step
// back is one more entry, nothing is wiped out.
import { useState } from "preact/hooks";
import { Refused } from "../access/refused";
import { Choices, Input } from "../parts/fields";
import { useAct, type Acting } from "../staff/act";
import { DoneLine } from "../staff/done_line";
import { moment_words } from "../words/moments";
import type { Finding, Reason, State } from "./api_findings";
import { here, reason_words, state_words } from "./words";
import { tell } from "../words/catalogue/bench";

interface Props {
  finding: Finding;
  again: () => Promise<void>;
}

type Move = (state: State, more?: { reason?: Reason; note?: string }) => Promise<boolean>;

function useMove({ finding, again }: Props): { act: Acting; move: Move } {
  const act = useAct();
  const write = async (state: State, follows: number, more: { reason?: Reason; note?: string }): Promise<Finding | null> => {
    const after = await act.send<Finding>("/findings/state", { finding: finding.id, state, follows, ...more });
    await again();
    return after;
  };
  const move: Move = async (state, more = {}) => {
    const before = finding.history.at(-1);
    const back = before?.state === "closed" && before.reason ? { reason: before.reason, ...(before.note && { note: before.note }) } : {};
    const after = await write(state, finding.newest, more);
    if (!after) return false;
    const undo = async (): Promise<void> => {
      if (await write(finding.state, after.newest, back)) act.tell({ words: tell("bench.undone_it_is_as_it_was"), undo: null });
    };
    const state_now = state_words[state].toLowerCase();
    act.tell({ words: tell("bench.recorded", { state_now }), undo });
    return true;
  };
  return { act, move };
}

function Close({ act, move, leave }: { act: Acting; move: Move; leave: () => void }) {
  const [reason, set_reason] = useState("");
  const [note, set_note] = useState("");
  const [error, set_error] = useState("");
  const close = async (event: Event): Promise<void> => {
    event.preventDefault();
    if (!reason) return set_error(tell("bench.choose_why_it_is_closed"));
    if (await move("closed", { reason: reason as Reason, ...(note.trim() && { note: note.trim() }) })) leave();
  };
  const choices = Object.entries(reason_words).map(([value, words]) => ({ value, words }));
  return (
    <form class="card" onSubmit={(event) => void close(event)} noValidate aria-label={tell("bench.close_this_finding")}>
      <Choices name="reason" legend={tell("bench.why_is_it_closed")} value={reason} error={error} choices={choices} onChange={(value) => (set_error(""), set_reason(value))} />
      <Input name="note" legend={tell("bench.a_note_if_any")} value={note} max_length={200} onChange={set_note} />
      <p class="small">{tell("bench.no_names_it_stays_readable_as")}</p>
      <div class="answers">
        <button type="submit" disabled={act.busy}>
          {tell("bench.close_it")}
        </button>
        <button type="button" class="plain" onClick={leave}>
          {tell("bench.leave_it_open")}
        </button>
      </div>
    </form>
  );
}

export function Became(props: Props) {
  const { finding } = props;
  const { act, move } = useMove(props);
  const [closing, set_closing] = useState(false);
  const now = new Date();
  const to_do: readonly State[] = finding.state === "open" ? ["seen", "taken_on"] : finding.state === "seen" ? ["taken_on"] : finding.state === "closed" ? ["open"] : [];
  const verb: Partial<Record<State, string>> = { seen: tell("bench.i_have_seen_it"), taken_on: tell("bench.i_take_it_on"), open: tell("bench.open_it_again") };
  return (
    <section class="became-whole" aria-labelledby="became">
      <h2 id="became">{state_words[finding.state]}</h2>
      <DoneLine act={act} />
      <Refused said={act.said} />
      {closing ? (
        <Close act={act} move={move} leave={() => set_closing(false)} />
      ) : (
        <div class="answers no-print">
          {to_do.map((state) => (
            <button key={state} type="button" disabled={act.busy} onClick={() => void move(state)}>
              {verb[state]}
            </button>
          ))}
          {finding.state !== "closed" && (
            <button type="button" onClick={() => set_closing(true)}>
              {tell("bench.close_it_with_a_reason")}
            </button>
          )}
        </div>
      )}
      <ol class="trail" aria-label={tell("bench.what_became_of_it")}>
        <li>{tell("bench.the_evidence_was_enough", { when: moment_words(new Date(finding.raised_at), now, here()) })}</li>
        {finding.history.map((one, index) => (
          <li key={`${one.at}-${index}`}>
            {`${moment_words(new Date(one.at), now, here())}: ${one.text}`}
            {one.note && !one.text.includes(one.note) && ` ${one.note}`}
          </li>
        ))}
        {finding.ended_at && <li>{tell("bench.the_evidence_has_faded", { when: moment_words(new Date(finding.ended_at), now, here()) })}</li>}
      </ol>
    </section>
  );
}
