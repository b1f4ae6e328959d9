// SPDX-License-Identifier: MIT
// "Closed" (moved, died): no reminders and no stops from that minute on, and a list of what comes back. It can be opened
// again.
import { useState } from "preact/hooks";
import { household_path } from "../../api/client";
import { Refused } from "../../access/refused";
import { date_words } from "../common/dates";
import { say_done } from "../common/done";
import { useSend } from "../common/use_send";
import type { BoardRow, ComesBack } from "../board_types";
import type { PartProps } from "./beside";

interface Closed {
  closed_at: string;
  stops_ended: { stop: string; round: string; date: string }[];
  comes_back: ComesBack[];
}

function Back({ what, title }: { what: readonly ComesBack[]; title: string }) {
  if (!what.length) return <p>Nothing that belongs to the agency is known to be there.</p>;
  return (
    <>
      <p class="strong">{title}</p>
      <ul>
        {what.map((one) => <li key={one.what}>{one.pieces > 1 ? `${one.what}: ${one.pieces}` : one.what}</li>)}
      </ul>
    </>
  );
}

export function Closing({ desk, today, changed }: PartProps) {
  const { household, closed_at, deliveries } = desk.row;
  const [sure, set_sure] = useState(false);
  const [ended, set_ended] = useState<Closed["stops_ended"]>([]);
  const { busy, said, send } = useSend();
  const path = household_path(household);
  const open_again = async (): Promise<boolean> => {
    const answer = await send<{ row: BoardRow }>(`${path}/reopen`, {});
    if (answer) changed();
    return answer !== null;
  };
  const close = async (): Promise<void> => {
    const answer = await send<Closed>(`${path}/close`, {});
    if (!answer) return;
    set_sure(false);
    set_ended(answer.stops_ended ?? []);
    changed();
    say_done(`${household} is closed: no reminders, no stops.`, async () => ((await open_again()) ? `${household} is open again. Its stops have to be planned anew.` : null));
  };
  return (
    <section aria-labelledby="closing-name" class="closing">
      <h3 id="closing-name">{closed_at ? "Closed" : "Close this household"}</h3>
      <Refused said={said} />
      {ended.length > 0 && <p>{`Stops that ended: ${ended.map((one) => date_words(one.date, today)).join(", ")}.`}</p>}
      {closed_at && (
        <>
          <Back what={desk.comes_back} title="What comes back" />
          <button type="button" disabled={busy} onClick={() => void open_again()}>
            Open it again
          </button>
        </>
      )}
      {!closed_at && !sure && (
        <button type="button" onClick={() => set_sure(true)}>
          It moved, or the wearer died
        </button>
      )}
      {!closed_at && sure && (
        <div class="ask" role="alert">
          <p class="strong">{`Close ${household}?`}</p>
          <p>{`Its reminders end this minute${deliveries.length ? `, and ${deliveries.length === 1 ? "the stop that is" : "the stops that are"} planned` : ""}. What was recorded stays.`}</p>
          <Back what={desk.comes_back} title="What would come back" />
          <div class="answers">
            <button type="button" class="main" disabled={busy} onClick={() => void close()}>
              Yes, close it
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
