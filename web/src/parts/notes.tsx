// SPDX-License-Identifier: MIT
// What is on its way and what was just recorded, in the card it concerns; the second with its undo.
import type { Intention, Recorded } from "../state/intention";
import { undo_ms, type Desk } from "../state/desk";
import { try_again_now } from "../state/outbox";
import { PackingList } from "./packing_list";

export function Waiting({ intention }: { intention: Intention }) {
  const lost = intention.stage === "no_signal";
  return (
    <div class="note">
      <p class="sentence">{`${intention.words}, being sent; forecast to come.`}</p>
      <p class="sending">{lost ? "Not sent yet: no answer. It is kept here and sent again by itself while this page stays open." : "Sending…"}</p>
      {lost && (
        <button type="button" onClick={try_again_now}>
          Send it now
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
