// SPDX-License-Identifier: MIT
// One page for the hospital, "as recorded": the settings, the unit, the cells and what was seen last, and when it was read. No
// forecast stands on it, and nothing that was not recorded; what could not be asked for is never told as nothing.
import { useEffect, useState } from "preact/hooks";
import { get, household_path } from "../api/client";
import { both_sides, type Entry, type Household, type Settings, type Side } from "../api/types";
import { context_of } from "../forms/context_of";
import { spans_words } from "../forms/spans";
import type { FormProps } from "../forms/use_form";
import { Screen } from "../parts/screen";
import type { Intention } from "../state/intention";
import { unit_in_use } from "../state/units";
import { wall_time } from "../time/zone";
import { tell } from "../words/catalogue/behind";
import { lot_words, side_name } from "../words/names";
import { dated_words } from "./dated_words";

const newest = 12;
const told_kinds = new Set(["reading", "cell_change", "settings", "paced_more", "paced", "switched_off", "unit"]);

function settings_words(settings: Settings | null | undefined, zone: string, now: Date): string[] {
  if (!settings) return [tell("handover.no_settings")];
  const { rate_per_min: rate, inspiratory_fraction: fraction, amplitude, paced, from } = settings;
  return [
    tell("handover.numbers", { rate, fraction, amplitude }), tell("handover.spans", { spans: spans_words(paced) }),
    ...(from ? [tell("handover.since", { day: dated_words(new Date(from), zone, now) })] : []),
  ];
}

function cells_words(household: Household, side: Side, zone: string, now: Date): string {
  const cells = household.cells?.[side];
  if (!cells) return tell("handover.no_cells");
  const designation = household.cell_profiles?.find((profile) => profile.id === cells.profile)?.designation;
  const type = designation ?? cells.profile ?? tell("handover.type_unknown");
  return cells.since ? tell("handover.cells_since", { type, lot: lot_words(cells.lot), day: dated_words(new Date(cells.since), zone, now) }) : tell("handover.cells", { type, lot: lot_words(cells.lot) });
}

function SideRecords({ household, side, zone, now }: { household: Household; side: Side; zone: string; now: Date }) {
  return (
    <div>
      <dt>{side_name[side]}</dt>
      {settings_words(household.settings?.[side], zone, now).map((line) => <dd key={line}>{line}</dd>)}
      <dd>{cells_words(household, side, zone, now)}</dd>
    </div>
  );
}

type Asked = Entry[] | "asking" | "failed";

/// Asked for again when the signal is back; what was read once stays.
function useEntries(name: string, signal: boolean): Asked {
  const [asked, set_asked] = useState<Asked>("asking");
  useEffect(() => {
    let here = true;
    void get<{ entries: Entry[] }>(`${household_path(name)}/entries?limit=200`).then((answer) => {
      if (!here) return;
      if ("got" in answer) set_asked(answer.got.entries.filter((entry) => told_kinds.has(entry.kind) && !entry.voided_by));
      else set_asked((before) => (before === "asking" ? "failed" : before));
    });
    return () => {
      here = false;
    };
  }, [name, signal]);
  return asked;
}

function RecordedLast({ asked, not_sent, zone, now }: { asked: Asked; not_sent: Intention[]; zone: string; now: Date }) {
  const entries = typeof asked === "string" ? [] : asked.slice(0, newest - not_sent.length);
  return (
    <>
      <h3>{tell("handover.seen_last")}</h3>
      <ul>
        {not_sent.map((one) => <li key={one.key}>{tell("handover.not_sent", { words: one.words })}</li>)}
        {entries.map((entry) => <li key={entry.id}>{`${dated_words(new Date(entry.at), zone, now)}: ${entry.text}`}</li>)}
      </ul>
      {asked === "asking" && <p role="status">{tell("handover.asking")}</p>}
      {asked === "failed" && <p role="status" class="strong">{tell("handover.not_asked")}</p>}
      {Array.isArray(asked) && !asked.length && !not_sent.length && <p>{tell("handover.nothing")}</p>}
    </>
  );
}

/// The household's document may be one that this phone kept: its age is part of what it says.
function ReadAt({ household, signal, zone }: { household: Household; signal: boolean; zone: string }) {
  if (!household.as_of) return null;
  const read = new Date(household.as_of);
  return <p class={signal ? undefined : "strong"}>{tell("handover.read_at", { day: dated_words(read, zone, read), year: String(wall_time(read, zone).year) })}</p>;
}

export function Handover({ desk, done }: FormProps) {
  const { household, now, waiting, signal, from_phone } = desk.value;
  const { zone } = context_of(desk);
  const asked = useEntries(desk.name, signal);
  if (!household) {
    return (
      <Screen title={tell("handover.title")} back={done}>
        <p role="status">{tell("handover.not_here")}</p>
      </Screen>
    );
  }
  const unit = unit_in_use(household);
  const not_sent = waiting.filter((one) => !["agency", "stock"].includes(one.about)).slice(-newest);
  return (
    <Screen title={tell("handover.title")} back={done}>
      <p class="told">{tell("handover.what")}</p>
      <p class="told">
        <button class="main" type="button" onClick={() => window.print()}>
          {tell("handover.print")}
        </button>
      </p>
      <section class="card printed fridge handover" aria-label={tell("handover.the_page")}>
        <h2>{tell("handover.heading", { name: desk.name })}</h2>
        <p>{tell("handover.as_recorded", { day: dated_words(now, zone, now), year: String(wall_time(now, zone).year) })}</p>
        <ReadAt household={household} signal={signal && !from_phone} zone={zone} />
        <p class="strong">{tell("handover.alarm_first")}</p>
        <p>{unit ? tell("handover.unit", { serial: unit.serial, type: unit.stimulator ?? "" }) : tell("handover.no_unit")}</p>
        <dl>
          {both_sides.map((side) => <SideRecords key={side} household={household} side={side} zone={zone} now={now} />)}
        </dl>
        <RecordedLast asked={asked} not_sent={not_sent} zone={zone} now={now} />
        <p class="small">{tell("handover.settings_are_theirs")}</p>
      </section>
    </Screen>
  );
}
