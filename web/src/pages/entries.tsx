// SPDX-License-Identifier: MIT
// "What was recorded": newest first, each with its undo; a record of the wrong side is exchanged in one step.
// Nothing is ever wiped: an undone entry stays, struck through.
import { useEffect, useState } from "preact/hooks";
import { get, household_path } from "../api/client";
import type { Entry, Side } from "../api/types";
import { context_of } from "../forms/context_of";
import type { FormProps } from "../forms/use_form";
import { Screen } from "../parts/screen";
import type { Desk } from "../state/desk";
import { exchange_both, exchange_side, partner_of, side_of, told_of } from "../state/exchange";
import { moment_words } from "../words/moments";
import { tell } from "../words/catalogue/behind";

interface Page {
  entries: Entry[];
  next?: string | null;
}

/// What took something back, or answered a question, is not taken back itself; what the agency recorded is the agency's to take back.
const of_the_agency = ["message_seen", "ask", "stop_place", "closed", "reopened", "planned_delivery", "delivery_withdrawn", "stop_decision"];
const lasting = new Set(["void", "answer", ...of_the_agency]);

function EntryRow({ desk, entry, zone, undone, partner }: { desk: Desk; entry: Entry; zone: string; undone: boolean; partner: Entry | null }) {
  const [busy, set_busy] = useState(false);
  const side = side_of(entry);
  const at = moment_words(new Date(entry.at), desk.value.now, zone);
  const begin = (act: Promise<unknown>): void => {
    set_busy(true);
    void act.finally(() => set_busy(false));
  };
  const other: Side = side === "left" ? "right" : "left";
  return (
    <li class={undone ? "undone" : undefined}>
      <p>{entry.text}</p>
      <p class="small">{[at, entry.who && tell("entries.by", { who: entry.who }), undone && tell("entries.undone")].filter(Boolean).join(", ")}</p>
      {!undone && !lasting.has(entry.kind) && (
        <div class="answers">
          <button type="button" disabled={busy} onClick={() => begin(desk.undo({ entry, ...told_of(entry), words: entry.text }))}>
            {tell("entries.undo")}<span class="unseen">{`: ${entry.text}`}</span>
          </button>
          {side && (
            <button type="button" disabled={busy} onClick={() => begin(exchange_side(desk, entry, other))}>
              {tell("entries.it_was_the_side", { other })}
              <span class="unseen">{`: ${entry.text}`}</span>
            </button>
          )}
          {partner && (
            <button type="button" disabled={busy} onClick={() => begin(exchange_both(desk, entry, partner))}>
              {tell("entries.i_mixed_up_the_sides")}
              <span class="unseen">{`: ${entry.text} ${partner.text}`}</span>
            </button>
          )}
        </div>
      )}
    </li>
  );
}

export function Entries({ desk, done }: FormProps) {
  const { zone } = context_of(desk);
  const [page, set_page] = useState<Page | null>(null);
  const [failed, set_failed] = useState("");
  const ask = async (cursor?: string): Promise<void> => {
    const query = cursor ? `?limit=30&cursor=${encodeURIComponent(cursor)}` : "?limit=30";
    const answer = await get<Page>(`${household_path(desk.name)}/entries${query}`);
    if ("got" in answer) {
      set_page((before) => ({ ...answer.got, entries: cursor ? [...(before?.entries ?? []), ...answer.got.entries] : answer.got.entries }));
      set_failed("");
    } else set_failed("problem" in answer ? answer.problem.title : tell("entries.no_signal_the_list_cannot_be"));
  };
  useEffect(() => void ask(), [desk.value.forecast?.as_of, desk.value.waiting.length]);
  return (
    <Screen title={tell("entries.what_was_recorded")} back={done}>
      {failed && <p role="status">{failed}</p>}
      {!page && !failed && <p role="status">{tell("entries.asking")}</p>}
      {page?.entries.length === 0 && <p>{tell("entries.nothing_yet")}</p>}
      <ul class="entries">
        {page?.entries.map((entry) => (
          <EntryRow
            key={entry.id} desk={desk} entry={entry} zone={zone} partner={partner_of(entry, page.entries)}
            undone={entry.voided_by !== null && entry.voided_by !== undefined}
          />
        ))}
      </ul>
      {page?.next && (
        <button type="button" onClick={() => void ask(page.next ?? "")}>
          {tell("entries.earlier_ones")}
        </button>
      )}
    </Screen>
  );
}
