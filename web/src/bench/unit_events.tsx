// SPDX-License-Identifier: MIT
// Where a unit was and what befell it; and recording that it came to the workshop, had a fault, was repaired or withdrawn.
import { useState } from "preact/hooks";
import { Refused } from "../access/refused";
import { Choices, Input } from "../parts/fields";
import { useAct } from "../staff/act";
import { DoneLine } from "../staff/done_line";
import { moment_of, read_wall, rfc3339, wall_text, wall_time } from "../time/zone";
import { unit_path, type UnitDocument } from "./api";
import { error_at } from "./form_parts";
import { day, here } from "./words";
import { tell } from "../words/catalogue/bench";

interface Props {
  unit: UnitDocument;
  again: () => Promise<void>;
}

const events = [
  { value: "workshop", words: tell("bench.it_came_to_the_workshop") },
  { value: "fault", words: tell("bench.it_had_a_fault") },
  { value: "repaired", words: tell("bench.it_was_repaired") },
  { value: "withdrawn", words: tell("bench.it_is_withdrawn_from_use") },
];

function EventForm({ unit, again }: Props) {
  const act = useAct();
  const zone = here();
  const [what, set_what] = useState("");
  const [at, set_at] = useState(wall_text(wall_time(new Date(), zone)));
  const [note, set_note] = useState("");
  const [missing, set_missing] = useState("");
  const wrong = error_at(act.errors);
  const path = `${unit_path(unit.serial)}/events`;
  const record = async (event: Event): Promise<void> => {
    event.preventDefault();
    if (!what) return set_missing(tell("bench.choose_what_happened"));
    const wall = read_wall(at);
    const when = wall ? rfc3339(moment_of(wall, zone), zone) : at;
    const kept = await act.send<{ number: number }>(path, { at: when, what, ...(note.trim() && { note: note.trim() }) });
    if (!kept) return;
    const words = events.find((one) => one.value === what)?.words ?? "";
    const undo = async (): Promise<void> => {
      if (await act.send(path, { at: when, what: "void", voids: kept.number })) act.tell({ words: tell("bench.undone"), undo: null });
      await again();
    };
    const event_words = `${words.charAt(0).toLowerCase()}${words.slice(1)}`;
    act.tell({ words: tell("bench.recorded_event", { event_words }), undo });
    set_what("");
    set_note("");
    await again();
  };
  return (
    <form onSubmit={(event) => void record(event)} noValidate>
      <DoneLine act={act} />
      <Refused said={act.said} />
      <Choices name="event" legend={tell("bench.what_happened")} value={what} choices={events} error={missing || wrong("/what")} onChange={(value) => (set_missing(""), set_what(value))} />
      <Input name="event-at" legend={tell("bench.when_by_your_clock")} type="datetime-local" value={at} error={wrong("/at")} onChange={set_at} />
      <Input name="event-note" legend={tell("bench.a_note_if_any_no_names")} value={note} max_length={200} error={wrong("/note")} onChange={set_note} />
      <button type="submit" disabled={act.busy}>
        {tell("bench.record_it")}
      </button>
    </form>
  );
}

/// What was recorded here by mistake is taken back by a later entry that names it.
function TakeBack({ unit, again, number, what }: Props & { number: number; what: string }) {
  const act = useAct();
  const take_back = async (): Promise<void> => {
    if (await act.send(`${unit_path(unit.serial)}/events`, { at: rfc3339(new Date(), here()), what: "void", voids: number })) await again();
  };
  return (
    <>
      <button type="button" class="no-print" disabled={act.busy} onClick={() => void take_back()}>
        {tell("bench.take_it_back")}<span class="unseen">{`: ${what}`}</span>
      </button>
      <Refused said={act.said} />
    </>
  );
}

export function UnitEvents(props: Props) {
  const { places, faults_list } = props.unit;
  const zone = here();
  const span = (from: string, to: string | null | undefined): string => (to ? tell("bench.span_of_days", { from: day(from, zone), to: day(to, zone) }) : tell("bench.until_now", { when: day(from, zone) }));
  const back = (row: { number?: number | null; voidable?: boolean; text: string }) => row.voidable && row.number ? <TakeBack {...props} number={row.number} what={row.text} /> : null;
  return (
    <section aria-labelledby="places">
      <h2 id="places">{tell("bench.where_it_was_and_what_befell")}</h2>
      {places.length ? (
        <ol class="trail">
          {places.map((one) => (
            <li key={`${one.from}/${one.kind}`} class={one.to ? undefined : "now"}>
              {`${one.from ? `${span(one.from, one.to)}: ` : ""}${one.text}`}
              {back(one)}
            </li>
          ))}
        </ol>
      ) : (
        <p class="text">{tell("bench.nothing_is_recorded_of_where_it")}</p>
      )}
      {faults_list.length > 0 && (
        <ul class="text trail" aria-label={tell("bench.faults")}>
          {faults_list.map((one) => (
            <li key={`${one.at}/${one.what}`}>
              {`${day(one.at, zone)}: ${one.text}`}
              {back(one)}
            </li>
          ))}
        </ul>
      )}
      <details class="no-print">
        <summary>{tell("bench.record_something_of_this_unit")}</summary>
        <EventForm {...props} />
      </details>
    </section>
  );
}
