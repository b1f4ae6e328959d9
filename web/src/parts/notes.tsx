// SPDX-License-Identifier: MIT
// What is on its way and what was just recorded, in the card it concerns; the second with its undo.
import type { Intention, Recorded } from "../state/intention";
import { undo_ms, type Desk } from "../state/desk";
import { try_again_now } from "../state/outbox";
import { PackingList } from "./packing_list";

const sent_later = "It is sent when the signal is back while this page is open.";

export function Waiting({ intention }: { intention: Intention }) {
  const lost = intention.stage === "no_signal";
  return (
    <div class="note">
      <p class="sentence">{`${intention.words}, ${lost ? "not sent yet." : "being sent."}`}</p>
      <p class="sending">{lost ? sent_later : "Forecast to come."}</p>
      {lost && (
        <button type="button" onClick={try_again_now}>
          Try to send it now
        </button>
      )}
    </div>
  );
}

export function JustRecorded({ desk, one }: { desk: Desk; one: Recorded }) {
  const in_time = desk.value.now.getTime() - one.recorded_ms < undo_ms;
  return (
    <div class="note recorded">
      <p>{`Recorded: ${one.words}`}</p>
      {one.packing && <PackingList packing={one.packing} />}
      <div class="answers">
        {in_time && (
          <button type="button" onClick={() => void desk.undo(one)}>
            Undo
          </button>
        )}
        {one.packing && (
          <button type="button" onClick={() => desk.close(one)}>
            Close
          </button>
        )}
      </div>
    </div>
  );
}
