// SPDX-License-Identifier: MIT
// What is on its way. Only what was received or counted is stock; when nobody in the home has answered, the planner calls
// and records what they say: all, a part, or nothing.
import { useState } from "preact/hooks";
import { household_path } from "../../api/client";
import { Refused } from "../../access/refused";
import { cap, delivery_words, list_words, of_item } from "../common/words";
import { date_words } from "../common/dates";
import { say_done } from "../common/done";
import { useSend } from "../common/use_send";
import type { BoardDelivery } from "../board_types";
import type { PartProps } from "./beside";
import { PartReceived, type Came } from "./part_received";
import { undo_of } from "./undo";

function Answer({ household, one, today, changed }: { household: string; one: BoardDelivery; today: string; changed: () => void }) {
  const { busy, said, problem, send } = useSend();
  const [asked, set_asked] = useState(false);
  const [in_part, set_in_part] = useState(false);
  const tell = async (answer: "received" | "not_received", lines?: readonly Came[]): Promise<void> => {
    const done = await send<{ entry?: number }>(`${household_path(household)}/delivery-answers`, { round: one.round, answer, ...(lines && { lines }) });
    if (!done) return;
    const when = date_words(one.date, today);
    const came = lines ? `Recorded: ${list_words(lines.map((line) => of_item(line.pieces, line.item)))} received of ${when}.` : `Recorded: what was planned for ${when} was received.`;
    const words = answer === "received" ? `${came} It counts as stock now.` : `Recorded: nothing was received of ${when}.`;
    say_done(words, undo_of(household, done.entry, `The delivery of ${when} is without an answer again.`, changed));
    changed();
  };
  const late = one.state === "no_answer";
  return (
    <li class={late ? "line-urgent" : undefined}>
      <p class={late ? "strong" : undefined}>{`${date_words(one.date, today)}: ${delivery_words[one.state]}`}</p>
      <p class="small">
        <a href={`#desk/round?${new URLSearchParams({ round: one.round })}`}>{one.round}</a>
      </p>
      <Refused said={said} />
      {in_part && <PartReceived household={household} round={one.round} busy={busy} problem={problem} keep={(lines) => void tell("received", lines)} leave={() => set_in_part(false)} />}
      {(late || asked) && !in_part && (
        <div class="answers">
          <button type="button" disabled={busy} onClick={() => void tell("received")}>
            The home says: all received
          </button>
          <button type="button" disabled={busy} onClick={() => set_in_part(true)}>
            The home says: received in part
          </button>
          <button type="button" disabled={busy} onClick={() => void tell("not_received")}>
            The home says: not received
          </button>
        </div>
      )}
      {!late && !asked && one.state === "left" && (
        <button type="button" class="plain" onClick={() => set_asked(true)}>
          {cap("the home has answered by telephone")}
        </button>
      )}
    </li>
  );
}

export function Deliveries({ desk, today, changed }: PartProps) {
  const { household, deliveries } = desk.row;
  if (!deliveries.length) return null;
  return (
    <section aria-labelledby="deliveries-name">
      <h3 id="deliveries-name">On its way</h3>
      <ul class="lines">
        {deliveries.map((one) => <Answer key={one.round} household={household} one={one} today={today} changed={changed} />)}
      </ul>
    </section>
  );
}
