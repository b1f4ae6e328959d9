// SPDX-License-Identifier: MIT
// What is on its way and what was just recorded, in the card it concerns; the second with its undo.
import type { Hold } from "../api/client";
import type { Intention, Recorded } from "../state/intention";
import { undo_ms, type Desk } from "../state/desk";
import { moment_words } from "../words/moments";
import { context_of } from "../forms/context_of";
import { try_again_now } from "../state/outbox";
import { PackingList } from "./packing_list";
import { tell } from "../words/catalogue/first";

const held: Record<Hold, string> = {
  no_signal: tell("notes.it_is_kept_on_this_phone"),
  not_signed_in: tell("notes.it_is_kept_on_this_phone_2"),
  outside_hours: tell("notes.it_is_kept_on_this_phone_3"),
};

export function waiting_words({ stage, words }: Intention): string {
  return tell(stage === "sending" ? "notes.being_sent" : "notes.not_sent_yet", { words });
}

/// `under`: it stands below a sentence that comes before it, and no forecast follows.
export function Waiting({ intention, under = false }: { intention: Intention; under?: boolean }) {
  const { stage } = intention;
  const on_the_way = stage === "sending";
  return (
    <div class="note">
      <p class={under ? "strong" : "sentence"}>{waiting_words(intention)}</p>
      <p class="sending">{!on_the_way ? held[stage] : !under && intention.about !== "agency" && tell("notes.forecast_to_come")}</p>
      {stage === "no_signal" && (
        <button type="button" onClick={try_again_now}>
          {tell("notes.try_to_send_it_now")}
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
  return ahead ? tell("notes.recorded_for", { moment: moment_words(at, now, zone), words }) : tell("notes.recorded", { words });
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
            {tell("notes.undo")}
          </button>
        )}
        {one.packing && (
          <button type="button" onClick={() => desk.close(one)}>
            {tell("notes.close")}
          </button>
        )}
      </div>
    </div>
  );
}
