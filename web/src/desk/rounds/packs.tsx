// SPDX-License-Identifier: MIT
// What a pack holds, how far ahead rounds are planned, and how much a home keeps whose storage is not recorded.
import { useState } from "preact/hooks";
import { Refused } from "../../access/refused";
import type { Problem } from "../../api/types";
import { Input } from "../../parts/fields";
import { say_done } from "../common/done";
import type { Said } from "../common/said";
import { useSend } from "../common/use_send";
import { count_of, packs } from "../common/words";
import type { Calendar, ItemOfRounds } from "../round_types";
import { kept_of } from "./kept_of";
import { StandsNow } from "./stands_now";

const usual_cover_days = 35;

interface Draft {
  items: { item: string; pieces_per_pack: string; pieces_per_set: string }[];
  horizon_days: string;
  cover_days: string;
}

type Parts = Pick<Calendar, "items" | "horizon_days" | "cover_days">;

function draft_of({ items, horizon_days, cover_days }: Calendar): Draft {
  return {
    items: items.map((one) => ({ item: one.item, pieces_per_pack: String(one.pieces_per_pack), pieces_per_set: String(one.pieces_per_set) })),
    horizon_days: String(horizon_days), cover_days: String(cover_days ?? usual_cover_days),
  };
}

function made_of(draft: Draft): Parts {
  const items: ItemOfRounds[] = draft.items.map((one) => ({ item: one.item.trim(), pieces_per_pack: Number(one.pieces_per_pack), pieces_per_set: Number(one.pieces_per_set) }));
  return { items, horizon_days: Number(draft.horizon_days), cover_days: Number(draft.cover_days) };
}

const is_whole = (n: number): boolean => Number.isInteger(n) && n > 0;
const is_ready = ({ items, horizon_days, cover_days }: Parts): boolean => is_whole(horizon_days) && is_whole(cover_days ?? 0) && items.every((one) => one.item && is_whole(one.pieces_per_pack) && is_whole(one.pieces_per_set));

interface FormProps {
  calendar: Calendar;
  busy: boolean;
  said: Said | null;
  problem: Problem | null;
  keep: (parts: Parts) => void;
  leave: () => void;
}

function Form({ calendar, busy, said, problem, keep, leave }: FormProps) {
  const [draft, set_draft] = useState(draft_of(calendar));
  const set_item = (at: number, part: Partial<Draft["items"][number]>): void => set_draft({ ...draft, items: draft.items.map((one, index) => (index === at ? { ...one, ...part } : one)) });
  const error = (place: string): string | undefined => problem?.errors?.find((one) => one.place === place)?.reason;
  const made = made_of(draft);
  const send = (event: Event): void => {
    event.preventDefault();
    keep(made);
  };
  return (
    <form class="adjust" onSubmit={send}>
      <Refused said={said} />
      {draft.items.map((one, at) => (
        <fieldset class="field" key={at}>
          <legend>{one.item || "Another item"}</legend>
          <div class="pair">
            <Input name={`pack-item-${at}`} legend="Item" value={one.item} error={error(`/items/${at}/item`)} max_length={60} onChange={(item) => set_item(at, { item })} />
            <Input name={`pack-pieces-${at}`} legend="Pieces in a pack" keys="numeric" value={one.pieces_per_pack} error={error(`/items/${at}/pieces_per_pack`)} onChange={(pieces_per_pack) => set_item(at, { pieces_per_pack })} />
            <Input name={`pack-set-${at}`} legend="Used together, of one lot" keys="numeric" value={one.pieces_per_set} error={error(`/items/${at}/pieces_per_set`)} onChange={(pieces_per_set) => set_item(at, { pieces_per_set })} />
          </div>
          <button type="button" class="small-act" onClick={() => set_draft({ ...draft, items: draft.items.filter((_, index) => index !== at) })}>
            Leave out<span class="unseen">{` ${one.item}`}</span>
          </button>
        </fieldset>
      ))}
      <div class="pair">
        <Input name="horizon_days" legend="Planned ahead" after="days" keys="numeric" value={draft.horizon_days} error={error("/horizon_days")} onChange={(horizon_days) => set_draft({ ...draft, horizon_days })} />
        <Input name="cover_days" legend="A home without a limit keeps at most what it may use in" after="days" keys="numeric" value={draft.cover_days} error={error("/cover_days")} onChange={(cover_days) => set_draft({ ...draft, cover_days })} />
      </div>
      <div class="answers">
        <button type="submit" class="main" disabled={busy || !is_ready(made)}>
          Keep this
        </button>
        <button type="button" onClick={() => set_draft({ ...draft, items: [...draft.items, { item: "", pieces_per_pack: "", pieces_per_set: "1" }] })}>
          Add an item
        </button>
        <button type="button" onClick={leave}>
          Leave it
        </button>
      </div>
    </form>
  );
}

export function Packs({ calendar, again }: { calendar: Calendar; again: () => void }) {
  const [open, set_open] = useState(false);
  const { busy, said, problem, clear, send } = useSend();
  const keep = async (parts: Parts, follows: number): Promise<Calendar | null> => {
    const answer = await send<Calendar>("/calendar", { ...kept_of(calendar), ...parts, follows });
    if (answer) again();
    return answer;
  };
  const change = async (parts: Parts): Promise<void> => {
    const answer = await keep(parts, calendar.number);
    if (!answer) return;
    set_open(false);
    say_done("Packs and days ahead are kept. The plan is made anew.", async () => ((await keep(kept_of(calendar), answer.number)) ? "Packs and days ahead are as they were." : null));
  };
  return (
    <section aria-labelledby="packs-name">
      <h2 id="packs-name">What a pack holds</h2>
      <StandsNow problem={problem} clear={clear} again={again} />
      {open ? <Form calendar={calendar} busy={busy} said={said} problem={problem} keep={(parts) => void change(parts)} leave={() => set_open(false)} /> : (
        <>
          {calendar.items.length === 0 && <p>Nothing is entered: each piece counts as a pack.</p>}
          <ul>
            {calendar.items.map((one) => (
              <li key={one.item}>{`${one.item}: ${count_of(one.pieces_per_pack, "piece")} in ${packs(1)}${one.pieces_per_set > 1 ? `, used ${one.pieces_per_set} together and never of two lots` : ""}`}</li>
            ))}
          </ul>
          <p class="small">{`Planned ahead: ${count_of(calendar.horizon_days, "day")}. A home whose storage is not recorded keeps at most what it may use in ${count_of(calendar.cover_days ?? usual_cover_days, "day")}.`}</p>
          <button type="button" onClick={() => set_open(true)}>
            Change packs and days ahead
          </button>
        </>
      )}
    </section>
  );
}
