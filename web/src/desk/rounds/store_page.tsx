// SPDX-License-Identifier: MIT
// "The agency's store": packs by lot and expiry, what is on order, and what came or went.
import { useState } from "preact/hooks";
import { Refused } from "../../access/refused";
import { Choices, Input, Select } from "../../parts/fields";
import { Asked } from "../common/asked";
import { date_words, month_words, today_of } from "../common/dates";
import { say_done } from "../common/done";
import { useDocument } from "../common/use_document";
import { useSend } from "../common/use_send";
import { cap, count_of, packs } from "../common/words";
import type { AgencyLot, AgencyStock, Calendar } from "../round_types";

type What = "received" | "counted" | "discarded" | "ordered";
const whats: readonly { value: What; words: string }[] = [
  { value: "received", words: "Came in" }, { value: "counted", words: "Counted" }, { value: "discarded", words: "Thrown away" }, { value: "ordered", words: "On order" },
];

const empty = { what: "" as What | "", item: "cells", lot: "", packs: "", expires: "", arrives: "" };

function lot_said({ arrives, recalled, expired, please_count }: AgencyLot, today: string): string {
  if (recalled) return "recalled: not planned, not loaded";
  if (expired) return "expired: not planned, not loaded";
  if (please_count) return "more went out than came in: please count";
  if (!arrives) return "in the store";
  return arrives < today ? `was to come on ${date_words(arrives, today)}: has it come?` : `on order, from ${date_words(arrives, today)}`;
}

/// An order that does not come any more: nothing of it is planned from now on. Undone, it is on order as it was.
function CancelOrder({ one, again }: { one: AgencyLot; again: () => void }) {
  const { busy, said, send } = useSend();
  const { item, lot, packs: n, expires, arrives } = one;
  const of = { item, ...(lot && { lot }), packs: n };
  const words = `${packs(n)} of ${item}${lot ? `, lot ${lot}` : ""}`;
  const cancel = async (): Promise<void> => {
    if (!(await send<AgencyStock>("/agency-stock", { what: "cancelled", ...of }))) return;
    const undo = async (): Promise<string | null> => {
      const back = await send<AgencyStock>("/agency-stock", { what: "ordered", ...of, arrives, ...(expires && { expires }) });
      if (back) again();
      return back && `${words} on order again.`;
    };
    const comes_still = arrives !== null && arrives >= today_of(new Date());
    say_done(`Cancelled: ${words} ordered.`, comes_still ? undo : null);
    again();
  };
  return (
    <>
      <Refused said={said} />
      <button type="button" class="plain" disabled={busy} onClick={() => void cancel()}>
        Cancel this order<span class="unseen">{`: ${words}`}</span>
      </button>
    </>
  );
}

function Lots({ stock, again }: { stock: AgencyStock; again: () => void }) {
  const today = today_of(new Date());
  if (!stock.lots.length) return <p>{stock.looked_at ? "The store is empty." : "Nothing was ever entered here: plans take the store as having enough."}</p>;
  return (
    <table class="numbers">
      <thead>
        <tr>
          <th scope="col">Lot</th>
          <th scope="col">Packs</th>
          <th scope="col">Pieces</th>
          <th scope="col">Expires</th>
          <th scope="col">Where</th>
        </tr>
      </thead>
      <tbody>
        {stock.lots.map((one) => (
          <tr key={`${one.item}${one.lot}${one.arrives}`} class={one.recalled || one.expired ? "strong" : undefined}>
            <th scope="row">
              {`${cap(one.item)}, `}
              <a href={`#desk/lot?${new URLSearchParams({ lot: one.lot, item: one.item })}`}>{one.lot}</a>
            </th>
            <td class="by-word">{one.packs}</td>
            <td class="by-word">{one.packs * one.pieces_per_pack}</td>
            <td class="by-word">{one.expires ? month_words(one.expires) : ""}</td>
            <td>
              {lot_said(one, today)} {one.arrives && <CancelOrder one={one} again={again} />}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Form({ items, again }: { items: readonly string[]; again: () => void }) {
  const [draft, set_draft] = useState(empty);
  const { busy, said, problem, send } = useSend();
  const set = (part: Partial<typeof empty>): void => set_draft({ ...draft, ...part });
  const error = (name: string): string | undefined => problem?.errors?.find((one) => one.place === `/${name}`)?.reason;
  const { what, item, lot, expires, arrives } = draft;
  const keep = async (event: Event): Promise<void> => {
    event.preventDefault();
    const n = Number(draft.packs);
    const body = { what, item, lot: lot.trim(), packs: n, ...(expires && { expires }), ...(what === "ordered" && arrives && { arrives }) };
    if (!(await send<AgencyStock>("/agency-stock", body))) return;
    say_done(`Recorded: ${packs(n)} of ${item}, lot ${lot}, ${whats.find((one) => one.value === what)?.words.toLowerCase()}. A count puts a mistake right.`);
    set_draft({ ...empty, item });
    again();
  };
  const ready = what && lot.trim() && /^\d+$/.test(draft.packs.trim()) && (what !== "ordered" || arrives);
  return (
    <form class="adjust" onSubmit={(event) => void keep(event)}>
      <Refused said={said} />
      <Choices name="what" legend="What happened" value={what} choices={whats} inline onChange={(value) => set({ what: value as What })} error={error("what")} />
      <div class="pair">
        <Select name="item" legend="Item" value={item} choices={items.map((one) => ({ value: one, words: one }))} onChange={(value) => set({ item: value })} error={error("item")} />
        <Input name="lot" legend="Lot" value={lot} max_length={40} onChange={(value) => set({ lot: value })} error={error("lot")} />
      </div>
      <div class="pair">
        <Input name="packs" legend="Packs" keys="numeric" value={draft.packs} onChange={(value) => set({ packs: value })} error={error("packs")} />
        <Input name="expires" legend="Expires" type="month" value={expires} onChange={(value) => set({ expires: value })} error={error("expires")} />
        {what === "ordered" && <Input name="arrives" legend="Arrives" type="date" value={arrives} onChange={(value) => set({ arrives: value })} error={error("arrives")} />}
      </div>
      <button type="submit" class="main" disabled={busy || !ready}>
        Record this
      </button>
    </form>
  );
}

export function StorePage() {
  const stock = useDocument<AgencyStock>("/agency-stock");
  const calendar = useDocument<Calendar>("/calendar");
  const items = [...new Set(["cells", ...(calendar.got?.items.map((one) => one.item) ?? []), ...(stock.got?.lots.map((one) => one.item) ?? [])])];
  return (
    <>
      <h1 tabIndex={-1}>The agency's store</h1>
      <Asked asked={stock} what="the store">
        {(got) => (
          <div class="halves">
            <section aria-labelledby="kept-name">
              <h2 id="kept-name">{count_of(new Set(got.lots.map((one) => `${one.item} ${one.lot}`)).size, "lot")}</h2>
              <Lots stock={got} again={stock.again} />
              <p class="small">What expires first goes out first. A recalled lot leaves the plan at once.</p>
            </section>
            <section aria-labelledby="record-name">
              <h2 id="record-name">Record</h2>
              <Form items={items} again={stock.again} />
            </section>
          </div>
        )}
      </Asked>
    </>
  );
}
