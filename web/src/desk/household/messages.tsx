// SPDX-License-Identifier: MIT
// What the home said, and that the agency saw it; until then the home reads "not seen yet: call".
import { household_path } from "../../api/client";
import { Refused } from "../../access/refused";
import { say_done } from "../common/done";
import { useSend } from "../common/use_send";
import { message_words } from "../list/row";
import type { PartProps } from "./beside";
import { undo_of } from "./undo";

export function Messages({ desk, today, changed }: PartProps) {
  const { household, messages } = desk.row;
  const { busy, said, send } = useSend();
  if (!messages.length) return null;
  const seen = async (entry: number | string): Promise<void> => {
    const answer = await send<{ seen_at: string; entry?: number | null }>(`${household_path(household)}/messages/${encodeURIComponent(String(entry))}/seen`, {});
    if (!answer) return;
    say_done("The home now reads that the agency has seen it.", undo_of(household, answer.entry, "The home reads again that it is not seen.", changed));
    changed();
  };
  return (
    <section aria-labelledby="messages-name">
      <h3 id="messages-name">From the home</h3>
      <Refused said={said} />
      <ul class="lines">
        {messages.map((one) => (
          <li key={one.entry} class={one.seen_at ? undefined : "line-urgent"}>
            <p class={one.seen_at ? undefined : "strong"}>{message_words(one, today)}</p>
            {one.note && <p>{`“${one.note}”`}</p>}
            {!one.seen_at && (
              <button type="button" disabled={busy} onClick={() => void seen(one.entry)}>
                Seen: tell the home
              </button>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}
