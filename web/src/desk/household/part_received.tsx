// SPDX-License-Identifier: MIT
// A delivery that came otherwise than planned: fewer pieces, another lot, something beside it. The planned lines stand
// there with their pieces, each to be put right; only what is entered becomes stock.
import { useState } from "preact/hooks";
import { household_path } from "../../api/client";
import type { Problem } from "../../api/types";
import { Input } from "../../parts/fields";
import { Asked } from "../common/asked";
import { useDocument } from "../common/use_document";
import { cap, of_item } from "../common/words";
import type { RoundLine } from "../round_types";

export interface Came {
  item: string;
  lot?: string;
  pieces: number;
  expires?: string;
}

interface Draft {
  item: string;
  lot: string;
  pieces: string;
  expires: string;
  /// By the plan; none: a line that was added here.
  planned: number | null;
}

interface Props {
  household: string;
  round: string;
  busy: boolean;
  problem: Problem | null;
  keep: (lines: readonly Came[]) => void;
  leave: () => void;
}

interface Deliveries {
  deliveries: { round: string; lines: Pick<RoundLine, "item" | "packs" | "pieces" | "lots">[] }[];
}

function drafts_of({ deliveries }: Deliveries, round: string): Draft[] {
  const lines = deliveries.find((one) => one.round === round)?.lines ?? [];
  return lines.flatMap(({ item, packs, pieces, lots }) =>
    lots.map((one) => {
      const planned = packs ? (pieces / packs) * one.packs : 0;
      return { item, lot: one.lot ?? "", pieces: String(planned), expires: one.expires ?? "", planned };
    }),
  );
}

const is_whole = (text: string): boolean => /^\d{1,6}$/.test(text.trim());

function came_of(drafts: readonly Draft[]): Came[] {
  const came = drafts.map(({ item, lot, pieces, expires }) => ({ item: item.trim(), pieces: Number(pieces), ...(lot.trim() && { lot: lot.trim() }), ...(expires && { expires }) }));
  return came.filter((one) => one.pieces > 0);
}

function Lines({ first, busy, problem, keep, leave }: Pick<Props, "busy" | "problem" | "keep" | "leave"> & { first: Draft[] }) {
  const [drafts, set_drafts] = useState(first);
  const set = (at: number, part: Partial<Draft>): void => set_drafts(drafts.map((one, index) => (index === at ? { ...one, ...part } : one)));
  const came = came_of(drafts);
  const ready = drafts.every((one) => one.item.trim() && is_whole(one.pieces)) && came.length > 0;
  const sent = (at: number): number => came_of(drafts.slice(0, at)).length;
  const error = (at: number, name: string): string | undefined => problem?.errors?.find((one) => one.place === `/lines/${sent(at)}/${name}`)?.reason;
  const send = (event: Event): void => {
    event.preventDefault();
    if (ready) keep(came);
  };
  return (
    <form class="adjust" onSubmit={send}>
      {drafts.map((one, at) => (
        <fieldset class="field" key={at}>
          <legend>{one.planned === null ? "Beside it" : `${cap(one.item)}: planned ${of_item(one.planned, one.item)}`}</legend>
          {one.planned === null && <Input name={`came-item-${at}`} legend="Item" value={one.item} error={error(at, "item")} max_length={60} onChange={(item) => set(at, { item })} />}
          <div class="pair">
            <Input name={`came-pieces-${at}`} legend="Pieces that came" keys="numeric" value={one.pieces} error={error(at, "pieces")} max_length={6} onChange={(pieces) => set(at, { pieces })} />
            <Input name={`came-lot-${at}`} legend="Lot" value={one.lot} error={error(at, "lot")} max_length={60} onChange={(lot) => set(at, { lot, ...(lot !== first[at]?.lot && { expires: "" }) })} />
            <Input name={`came-expires-${at}`} legend="Expires" type="month" value={one.expires} error={error(at, "expires")} onChange={(expires) => set(at, { expires })} />
          </div>
        </fieldset>
      ))}
      {drafts.filter((one) => one.planned !== null && is_whole(one.pieces) && Number(one.pieces) > one.planned).map((one) => (
        <p key={one.item + one.lot} class="strong" role="status">{`${cap(one.item)}: ${of_item(one.planned ?? 0, one.item)} were planned. Count once more: what is recorded counts as stock of the home at once.`}</p>
      ))}
      {drafts.some((one) => one.pieces.trim() && !is_whole(one.pieces)) && <p role="status">Pieces are a whole number, such as 12.</p>}
      {drafts.length > 0 && came.length === 0 && drafts.every((one) => is_whole(one.pieces)) && <p>Nothing of it came? Then answer “not received”.</p>}
      <div class="answers">
        <button type="submit" class="main" disabled={busy || !ready}>
          Record what came
        </button>
        <button type="button" onClick={() => set_drafts([...drafts, { item: "cells", lot: "", pieces: "", expires: "", planned: null }])}>
          Add another lot or item
        </button>
        <button type="button" onClick={leave}>
          Leave it
        </button>
      </div>
    </form>
  );
}

export function PartReceived({ household, round, ...props }: Props) {
  const asked = useDocument<Deliveries>(`${household_path(household)}/messages`);
  return (
    <Asked asked={asked} what="what was planned">
      {(got) => <Lines {...props} first={drafts_of(got, round)} />}
    </Asked>
  );
}
