// SPDX-License-Identifier: MIT
// What is on its way and what was just recorded, in the card it concerns; the second with its undo.
import type { Intention, Recorded } from "../state/intention";
import { undo_ms, type Desk } from "../state/desk";
import { moment_words } from "../words/moments";
import { context_of } from "../forms/use_form";
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

const ahead_ms = 60_000;

/// What lies ahead is told with its time, so that "In hospital" is not read as now.
export function recorded_words({ entry, words, recorded_ms }: Recorded, zone: string, now: Date): string {
  const at = new Date(entry.at);
  const ahead = at.getTime() > recorded_ms + ahead_ms;
  return `Recorded${ahead ? ` for ${moment_words(at, now, zone)}` : ""}: ${words}`;
}

export function JustRecorded({ desk, one }: { desk: Desk; one: Recorded }) {
  const named = `recorded-${one.entry.id}`;
  const in_time = desk.value.now.getTime() - one.recorded_ms < undo_ms;
  return (
    <div class="note recorded">
      <p id={named}>{recorded_words(one, context_of(desk).zone, desk.value.now)}</p>
      {one.packing && <PackingList packing={one.packing} />}
      <div class="answers">
        {in_time && (
          <button type="button" aria-describedby={named} onClick={() => void desk.undo(one)}>
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
