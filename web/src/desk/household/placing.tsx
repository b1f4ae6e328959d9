// SPDX-License-Identifier: MIT
// Where it stands in the rounds: its area, the agency's own code of its door (never an address), and how much the house
// keeps. Two households of one code are one stop.
import { useState } from "preact/hooks";
import { household_path } from "../../api/client";
import { Refused } from "../../access/refused";
import { Input } from "../../parts/fields";
import { say_done } from "../common/done";
import { useSend } from "../common/use_send";
import { list_words, of_item } from "../common/words";
import type { BoardRow } from "../board_types";
import type { PartProps } from "./beside";

interface Draft {
  area: string;
  stop: string;
  /// The most pieces that the home keeps, by item; empty: no limit is recorded.
  storage: Record<string, string>;
}

const kept_words = (storage: readonly { item: string; pieces: number }[]): string => (storage.length ? ` It keeps at most ${list_words(storage.map((one) => of_item(one.pieces, one.item)))}.` : "");

const items_kept = ({ storage }: Draft): { item: string; pieces: number }[] => Object.entries(storage).flatMap(([item, pieces]) => (pieces.trim() ? [{ item, pieces: Number(pieces) }] : []));
const body_of = (draft: Draft): object => ({ area: draft.area.trim(), stop: draft.stop.trim() || null, storage: items_kept(draft) });
const is_limit = (pieces: string): boolean => !pieces.trim() || Number(pieces) > 0;

export function Placing({ desk: { row, storage }, changed }: PartProps) {
  const [draft, set_draft] = useState<Draft | null>(null);
  const { busy, said, problem, send } = useSend();
  const path = `${household_path(row.household)}/stop`;
  const place = async (to: Draft): Promise<boolean> => {
    const answer = await send<{ row: BoardRow }>(path, body_of(to));
    if (answer) changed();
    return answer !== null;
  };
  const before: Draft = { area: row.area ?? "", stop: row.stop ?? "", storage: Object.fromEntries(storage.map((one) => [one.item, String(one.pieces)])) };
  const items = [...new Set([...row.items.map((one) => one.item), ...storage.map((one) => one.item)])];
  const keep = async (event: Event): Promise<void> => {
    event.preventDefault();
    if (!draft || !(await place(draft))) return;
    set_draft(null);
    say_done(`${row.household} is in ${draft.area} now.${kept_words(items_kept(draft))}`, before.area ? async () => ((await place(before)) ? `${row.household} is in ${before.area} again.` : null) : null);
  };
  const error = (place_name: string): string | undefined => problem?.errors?.find((one) => one.place === place_name)?.reason;
  return (
    <section aria-labelledby="placing-name">
      <h3 id="placing-name">In the rounds</h3>
      {!draft && (
        <div class="answers">
          <p>{row.area ? `Area ${row.area}${row.stop ? `, stop ${row.stop}` : ", a stop of its own"}.${kept_words(storage)}` : "No area yet: no round can bring anything."}</p>
          <button type="button" onClick={() => set_draft(before)}>
            {row.area ? "Change it" : "Give it an area"}
          </button>
        </div>
      )}
      {draft && (
        <form onSubmit={(event) => void keep(event)}>
          <Refused said={said} />
          <div class="pair">
            <Input name="area" legend="Area" value={draft.area} error={error("/area")} max_length={40} onChange={(area) => set_draft({ ...draft, area })} />
            <Input name="stop" legend="Stop (the agency's code; no address)" value={draft.stop} error={error("/stop")} max_length={40} onChange={(stop) => set_draft({ ...draft, stop })} />
          </div>
          <div class="pair">
            {items.map((item) => (
              <Input
                key={item} name={`storage-${item}`} legend={`The home keeps at most (${item})`} after="pieces" keys="numeric" value={draft.storage[item] ?? ""} max_length={6}
                onChange={(pieces) => set_draft({ ...draft, storage: { ...draft.storage, [item]: pieces } })}
              />
            ))}
          </div>
          <div class="answers">
            <button type="submit" class="main" disabled={busy || !draft.area.trim() || !Object.values(draft.storage).every(is_limit)}>
              Keep this
            </button>
            <button type="button" onClick={() => set_draft(null)}>
              Leave it
            </button>
          </div>
        </form>
      )}
    </section>
  );
}
