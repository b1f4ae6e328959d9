// SPDX-License-Identifier: MIT
// The address at which a calendar program reads the rounds. It is a secret, shown once; a new one ends the old.
import { useState } from "preact/hooks";
import { send_once } from "../../api/client";
import { Refused } from "../../access/refused";
import { useAsk } from "../../access/use_ask";
import { Asked } from "../common/asked";
import { moment, today_of } from "../common/dates";
import { say_done } from "../common/done";
import { useDocument } from "../common/use_document";
import { useSend } from "../common/use_send";

export function Feed() {
  const asked = useDocument<{ made_at: string | null; by: string }>("/rounds-feed");
  const { busy, said, send } = useSend();
  const ending = useAsk();
  const [made, set_made] = useState<{ address: string; text: string } | null>(null);
  const make = async (): Promise<void> => {
    const answer = await send<{ address: string; text: string }>("/rounds-feed", {});
    if (!answer) return;
    set_made(answer);
    asked.again();
  };
  const end = async (): Promise<void> => {
    if (!(await ending.ask(() => send_once("DELETE", "/rounds-feed")))) return;
    set_made(null);
    asked.again();
    say_done("The address has ended: calendars read the rounds no more.");
  };
  return (
    <section aria-labelledby="feed-name">
      <h2 id="feed-name">The rounds in a calendar</h2>
      <p class="small">An address that a calendar program reads: dates, areas and how many stops, no household.</p>
      <Refused said={said ?? ending.said} />
      <Asked asked={asked} what="the address">
        {({ made_at, by }) => (
          <>
            {made && (
              <div class="notice">
                <p class="strong">Copy it now: it is shown once.</p>
                <p class="link">{made.address}</p>
                {made.text && <p>{made.text}</p>}
                <button type="button" onClick={() => void navigator.clipboard?.writeText(made.address).then(() => say_done("Copied."))}>
                  Copy it
                </button>
              </div>
            )}
            <p>{made_at ? `Made ${moment(made_at, today_of(new Date()))}${by ? `, ${by}` : ""}.` : "There is none."}</p>
            <div class="answers">
              <button type="button" disabled={busy} onClick={() => void make()}>
                {made_at ? "A new one, which ends the old" : "Make one"}
              </button>
              {made_at && (
                <button type="button" disabled={ending.busy} onClick={() => void end()}>
                  End it
                </button>
              )}
            </div>
          </>
        )}
      </Asked>
    </section>
  );
}
