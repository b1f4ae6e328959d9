// SPDX-License-Identifier: MIT
// One side: the sentence, its limit, when it was computed and when anyone last recorded something, the nights,
// the questions. Which of these may be shown is decided in state/side_view.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { CellsToChange, Forecast, Side, SideForecast } from "../api/types";
import type { Desk } from "../state/desk";
import { alarm_sentence, asks_for_act, view_of } from "../state/side_view";
import { age_words, clock, moment_words } from "../words/moments";
import { side_name } from "../words/names";
import { phrase_of } from "../words/phrases";
import { DisclaimerHere } from "./disclaimer";
import { Nights } from "./nights";
import { JustRecorded, Waiting } from "./notes";
import { Questions } from "./questions";
import { Reasons, ReasonsButton } from "./reasons";

interface Props {
  desk: Desk;
  side: Side;
  forecast: Forecast;
}

function which_cells({ cells, lot, place }: CellsToChange): string {
  const from = [lot && `lot ${lot}`, place].filter(Boolean).join(", ");
  return `${cells === 2 ? "Both" : `All ${cells}`} cells of this side${from ? `: ${from}` : ""}.`;
}

function change_by_words({ change_by }: SideForecast, zone: string, now: Date): string | null {
  return change_by ? moment_words(new Date(change_by), now, zone) : null;
}

function last_words({ last_recorded_at: last }: SideForecast, zone: string, now: Date): string {
  return last ? `Last recorded ${moment_words(new Date(last), now, zone)}.` : "Nothing recorded yet for this side.";
}

/// Small, always: when it was computed, and when anyone last recorded something for this side.
function Recency({ told, forecast, now }: { told: SideForecast; forecast: Forecast; now: Date }) {
  const { zone } = forecast;
  const computed = new Date(forecast.as_of);
  const today = now.getTime() - computed.getTime() < 12 * 3_600_000;
  const when = today ? clock(computed, zone) : moment_words(computed, now, zone);
  return <p class="small">{`Computed ${when}. ${last_words(told, zone, now)}`}</p>;
}

function ForecastView({ desk, side, forecast }: Props) {
  const told = forecast.sides[side];
  const { now } = desk.value;
  const phrase = phrase_of(told, change_by_words(told, forecast.zone, now));
  return (
    <>
      <p class="sentence">{phrase.words}</p>
      <DisclaimerHere />
      {phrase.limit && <p>{phrase.limit}</p>}
      {phrase.act && told.to_change && <p>{which_cells(told.to_change)}</p>}
      <Recency told={told} forecast={forecast} now={now} />
      <Questions desk={desk} side={side} questions={told.questions ?? []} />
      {Boolean(told.nights?.length) && <Nights side={side} nights={told.nights ?? []} zone={forecast.zone} />}
    </>
  );
}

/// After a warning one sentence and nothing else. A side that stopped has also what to do until it is mended.
function AlarmView({ side, told, zone }: { side: Side; told: SideForecast; zone: string }) {
  return (
    <>
      <p class="sentence">{alarm_sentence(side, told, zone)}</p>
      {told.stopped_at && <p>{told.limit || "Use the backup ventilation as prescribed."}</p>}
    </>
  );
}

function OldView({ desk, side, forecast }: Props) {
  const told = forecast.sides[side];
  const { now } = desk.value;
  const phrase = phrase_of(told);
  const by = change_by_words(told, forecast.zone, now);
  const computed = new Date(forecast.as_of);
  const age = `${moment_words(computed, now, forecast.zone)}, ${age_words(now.getTime() - computed.getTime())}`;
  return (
    <>
      <p class="sentence old">Old forecast.</p>
      <DisclaimerHere />
      <p>{`Computed ${age}. In doubt: fresh cells in both sides.`}</p>
      <p>{`It said then: “${phrase.words}”${by ? ` Change by ${by}.` : ""}`}</p>
      <p class="small">{last_words(told, forecast.zone, now)}</p>
    </>
  );
}

function Body({ desk, side, forecast }: Props): ComponentChildren {
  const { waiting, now } = desk.value;
  switch (view_of(forecast, side, waiting, now)) {
    case "waiting":
      return waiting.filter((one) => one.side === side).map((one) => <Waiting key={one.key} intention={one} />);
    case "alarm":
      return <AlarmView side={side} told={forecast.sides[side]} zone={forecast.zone} />;
    case "old":
      return <OldView desk={desk} side={side} forecast={forecast} />;
    case "forecast":
      return <ForecastView desk={desk} side={side} forecast={forecast} />;
  }
}

export function SideCard({ desk, side, forecast }: Props) {
  const { waiting, recorded, now } = desk.value;
  const [open, set_open] = useState(false);
  const act = asks_for_act(forecast, side, waiting, now);
  const explained = view_of(forecast, side, waiting, now) === "forecast";
  return (
    <section class={act ? "card act" : "card"} data-side={side} aria-labelledby={`${side}-name`}>
      <div class="head">
        <h2 id={`${side}-name`}>{side_name[side]}</h2>
        {explained && <ReasonsButton side={side} told={forecast.sides[side]} open={open} toggle={() => set_open(!open)} />}
      </div>
      <Body desk={desk} side={side} forecast={forecast} />
      {explained && open && <Reasons desk={desk} side={side} forecast={forecast} />}
      {recorded.filter((one) => one.side === side).map((one) => <JustRecorded key={one.entry.id} desk={desk} one={one} />)}
    </section>
  );
}
