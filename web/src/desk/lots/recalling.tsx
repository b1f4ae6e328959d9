// SPDX-License-Identifier: MIT
// A recall: asked about once more, then at once everywhere. It can be undone.
import { useState } from "preact/hooks";
import { Refused } from "../../access/refused";
import { Input } from "../../parts/fields";
import { open_screen } from "../../state/screen";
import { say_done } from "../common/done";
import { useSend } from "../common/use_send";

interface Answer {
  sentence: string;
}

export function use_recall(again: () => void) {
  const sending = useSend();
  const undo = async (lot: string, item: string): Promise<string | null> => {
    const answer = await sending.send<Answer>("/lots/recalls/undo", { lot, item });
    if (answer) again();
    return answer && (answer.sentence || `Lot ${lot} is no longer recalled.`);
  };
  const recall = async (lot: string, item: string, why: string): Promise<boolean> => {
    const answer = await sending.send<Answer>("/lots/recalls", { lot, item, ...(why.trim() && { why: why.trim() }) });
    if (!answer) return false;
    say_done(answer.sentence || `Lot ${lot} is recalled.`, () => undo(lot, item));
    again();
    return true;
  };
  return { ...sending, recall, undo };
}

export function Recalling({ again, given = "", item: given_item = "cells" }: { again: () => void; given?: string; item?: string }) {
  const [draft, set_draft] = useState({ lot: given, why: "" });
  const [sure, set_sure] = useState(false);
  const { busy, said, recall } = use_recall(again);
  const lot = draft.lot.trim();
  const go = async (): Promise<void> => {
    if (!(await recall(lot, given_item, draft.why))) return;
    set_sure(false);
    set_draft({ lot: given, why: "" });
    if (!given) open_screen("desk/lot", { lot, item: given_item });
  };
  return (
    <section aria-labelledby="recalling-name">
      <h2 id="recalling-name">{given ? "Recall it" : "Recall a lot"}</h2>
      <Refused said={said} />
      {!given && <Input name="recall-lot" legend="Lot" value={draft.lot} max_length={40} onChange={(value) => set_draft({ ...draft, lot: value })} />}
      <Input name="recall-why" legend="Why (may be left out)" value={draft.why} max_length={200} onChange={(why) => set_draft({ ...draft, why })} />
      {!sure && (
        <button type="button" disabled={!lot} onClick={() => set_sure(true)}>
          {lot ? `Recall lot ${lot}` : "Recall it"}
        </button>
      )}
      {sure && (
        <div class="ask" role="alert">
          <p class="strong">{`Recall lot ${lot}?`}</p>
          <p>At once its cells count nowhere as usable and leave the plan; each side that holds it is told to change at the next changing time.</p>
          <div class="answers">
            <button type="button" class="main" disabled={busy} onClick={() => void go()}>
              Yes, recall it
            </button>
            <button type="button" onClick={() => set_sure(false)}>
              No
            </button>
          </div>
        </div>
      )}
    </section>
  );
}
