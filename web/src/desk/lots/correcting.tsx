// SPDX-License-Identifier: MIT
// A lot number that was written wrongly is put right once; every use of it follows.
import { useState } from "preact/hooks";
import { Refused } from "../../access/refused";
import { Input } from "../../parts/fields";
import { say_done } from "../common/done";
import { useSend } from "../common/use_send";
import type { Correction } from "../lot_types";

interface Answer {
  sentence: string;
  uses: number;
}

export function Correcting({ corrections, again }: { corrections: readonly Correction[]; again: () => void }) {
  const [draft, set_draft] = useState({ from: "", to: "" });
  const { busy, said, send } = useSend();
  const put = async (from: string, to: string | null, item: string): Promise<Answer | null> => {
    const answer = await send<Answer>("/lots/corrections", { item, from, to });
    if (answer) again();
    return answer;
  };
  const keep = async (event: Event): Promise<void> => {
    event.preventDefault();
    const [from, to] = [draft.from.trim(), draft.to.trim()];
    const answer = await put(from, to, "cells");
    if (!answer) return;
    set_draft({ from: "", to: "" });
    say_done(answer.sentence || `${from} reads ${to} everywhere now.`, async () => ((await put(from, null, "cells")) ? `${from} reads ${from} again.` : null));
  };
  return (
    <section aria-labelledby="correcting-name">
      <h2 id="correcting-name">A number written wrongly</h2>
      <form onSubmit={(event) => void keep(event)}>
        <Refused said={said} />
        <div class="pair">
          <Input name="from" legend="It says" value={draft.from} max_length={40} onChange={(from) => set_draft({ ...draft, from })} />
          <Input name="to" legend="It should say" value={draft.to} max_length={40} onChange={(to) => set_draft({ ...draft, to })} />
        </div>
        <button type="submit" disabled={busy || !draft.from.trim() || !draft.to.trim()}>
          Put it right everywhere
        </button>
      </form>
      {corrections.length > 0 && (
        <ul class="lines">
          {corrections.map((one) => (
            <li key={one.entry}>
              {`${one.from} reads ${one.to}`}
              <button type="button" class="small-act" disabled={busy} onClick={() => void put(one.from, null, one.item)}>
                Take it back<span class="unseen">{`: ${one.from}`}</span>
              </button>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}
