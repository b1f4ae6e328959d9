// SPDX-License-Identifier: MIT
// One side: the sentence, its limit, what to take, when it was computed and when anyone last recorded something,
// the questions, the nights, and last the button for what was done. Which of these may be shown is decided in
// state/side_view.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { Forecast, Side, SideForecast } from "../api/types";
import { context_of } from "../forms/context_of";
import { with_its_alarms } from "../state/alarms";
import { cells_to_take } from "../state/cells_to_take";
import type { Desk } from "../state/desk";
import { concerns, type Intention } from "../state/intention";
import { open_screen } from "../state/screen";
import { alarm_sentence, asked, asks_for_act, calls_for_change, view_of } from "../state/side_view";
import { zone_of } from "../time/place";
import { age_words, clock, moment_words } from "../words/moments";
import { last_words } from "../words/last_recorded";
import { side_name } from "../words/names";
import { phrase_of } from "../words/phrases";
import { fresh_cells_words } from "../words/questions";
import { take_words } from "../words/take";
import { DisclaimerHere } from "./foot";
import { HandlingSteps } from "./handling_steps";
import { Nights } from "./nights";
import { JustRecorded, Waiting } from "./notes";
import { OldView } from "./old_view";
import { Questions } from "./questions";
import { Reasons, ReasonsButton } from "./reasons";
import { tell } from "../words/catalogue/first";

interface Props {
  desk: Desk;
  side: Side;
  forecast: Forecast;
}

function change_by_words({ change_by }: SideForecast, zone: string, now: Date): string | null {
  return change_by ? moment_words(new Date(change_by), now, zone) : null;
}

function Take({ told, side }: { told: SideForecast; side: Side }) {
  return told.to_change ? <p>{take_words(told.to_change, side)}</p> : null;
}

/// Where cells have no forecast the thing to do is the loud one: a red "No forecast." alone reads as a broken page.
function Limit({ limit, order }: { limit: string; order: boolean }) {
  const before = order ? limit.lastIndexOf(". ", limit.length - 2) + 1 : limit.length;
  return (
    <>
      {before > 0 && <p>{limit.slice(0, before)}</p>}
      {before < limit.length && <p class="order">{limit.slice(before).trim()}</p>}
    </>
  );
}

/// Pressed in a side's own card: the person has said which side, so the form has it.
function ChangedButton({ side, words }: { side: Side; words: string }) {
  return (
    <button type="button" class="main" onClick={() => open_screen("change", { side })}>
      {words}
      {words === fresh_cells_words && <span class="unseen">{tell("side_card.side", { side })}</span>}
    </button>
  );
}

/// Small, always: when it was computed, and when anyone last recorded something for this side.
function Recency({ told, forecast, now }: { told: SideForecast; forecast: Forecast; now: Date }) {
  const zone = zone_of(forecast);
  const computed = new Date(forecast.as_of);
  const today = now.getTime() - computed.getTime() < 12 * 3_600_000;
  const when = today ? clock(computed, zone) : moment_words(computed, now, zone);
  return <p class="small">{tell("side_card.computed", { when, last: last_words(told, zone, now) })}</p>;
}

/// An order that was told before what is on its way was noted: only how likely and what comes later is hidden.
function OrderView({ desk, side, forecast }: Props) {
  const told = forecast.sides[side];
  const { household, waiting, now } = desk.value;
  const wrong_cells = asked(told, "wrong_cells");
  const phrase = phrase_of(told, change_by_words(told, zone_of(forecast), now));
  const computed = new Date(forecast.as_of);
  const age = age_words(now.getTime() - computed.getTime());
  return (
    <>
      <p class={wrong_cells ? "sentence quiet" : "sentence"}>{phrase.words}</p>
      <DisclaimerHere />
      {phrase.limit && <Limit limit={phrase.limit} order={wrong_cells} />}
      <Take told={told} side={side} />
      <HandlingSteps household={household} />
      <p>{tell("side_card.the_order_stands", { moment: moment_words(computed, now, zone_of(forecast)), age })}</p>
      <ChangedButton side={side} words={asked(told, "which_cells") ? fresh_cells_words : tell("side_card.cells_changed", { side: side_name[side] })} />
      <OnTheWay waiting={waiting} side={side} />
    </>
  );
}

function ForecastView({ desk, side, forecast }: Props) {
  const told = forecast.sides[side];
  const { now } = desk.value;
  const [open, set_open] = useState(false);
  const phrase = phrase_of(told, change_by_words(told, zone_of(forecast), now));
  const act = calls_for_change(told);
  const wrong_cells = asked(told, "wrong_cells");
  return (
    <>
      <p class={wrong_cells ? "sentence quiet" : "sentence"}>{phrase.words}</p>
      <ReasonsButton side={side} told={told} open={open} toggle={() => set_open(!open)} />
      <DisclaimerHere />
      {phrase.limit && <Limit limit={phrase.limit} order={wrong_cells} />}
      {act && <Take told={told} side={side} />}
      {act && <HandlingSteps household={desk.value.household} />}
      <Recency told={told} forecast={forecast} now={now} />
      <Questions desk={desk} side={side} told={told} act={act} />
      {Boolean(told.nights?.length) && <Nights side={side} nights={told.nights ?? []} zone={zone_of(forecast)} />}
      {open && <Reasons desk={desk} side={side} forecast={forecast} />}
      {act && <ChangedButton side={side} words={asked(told, "which_cells") ? fresh_cells_words : tell("side_card.cells_changed", { side: side_name[side] })} />}
    </>
  );
}

/// Below a sentence that stands in spite of it.
const OnTheWay = ({ waiting, side }: { waiting: Intention[]; side: Side }) => <>{waiting.filter((one) => concerns(one, side)).map((one) => <Waiting key={one.key} intention={one} under />)}</>;

/// After a warning the one sentence, what to take, and the button: no time left, no nights, no dates. A side that
/// stopped has also what to do until it is mended. Without a signal the sentence is made here, and what waits stands below.
function AlarmView({ desk, side, told, forecast, zone }: { desk: Desk; side: Side; told: SideForecast; forecast: Forecast | null; zone: string }) {
  const { household, waiting, now } = desk.value;
  return (
    <>
      <p class="sentence">{alarm_sentence(side, told, zone, now)}</p>
      {told.stopped_at && <p>{told.limit || tell("side_card.use_the_backup_ventilation_as_prescribed")}</p>}
      <p>{take_words(told.to_change ?? cells_to_take(household, forecast), side)}</p>
      <HandlingSteps household={household} />
      <ChangedButton side={side} words={tell("side_card.cells_changed", { side: side_name[side] })} />
      {forecast && <OnTheWay waiting={waiting} side={side} />}
    </>
  );
}

/// Before any forecast is here a warning or a stop noted on this phone has its card all the same.
export function AlarmCard({ desk, side }: { desk: Desk; side: Side }) {
  const told = with_its_alarms({ phrase: "no_forecast" }, side, desk.value.waiting);
  if (!told.warned_at && !told.stopped_at) return null;
  return (
    <section class="card act" data-side={side} aria-labelledby={`${side}-name`}>
      <h2 id={`${side}-name`} tabIndex={-1}>
        {side_name[side]}
      </h2>
      <AlarmView desk={desk} side={side} told={told} forecast={null} zone={context_of(desk).zone} />
    </section>
  );
}

function Body({ desk, side, forecast }: Props): ComponentChildren {
  const { waiting, now } = desk.value;
  switch (view_of(forecast, side, waiting, now)) {
    case "waiting":
      return waiting.filter((one) => concerns(one, side)).map((one) => <Waiting key={one.key} intention={one} />);
    case "alarm":
      return <AlarmView desk={desk} side={side} told={with_its_alarms(forecast.sides[side], side, waiting)} forecast={forecast} zone={zone_of(forecast)} />;
    case "old":
      return (
        <>
          <OldView desk={desk} side={side} forecast={forecast} />
          <OnTheWay waiting={waiting} side={side} />
        </>
      );
    case "order":
      return <OrderView desk={desk} side={side} forecast={forecast} />;
    case "forecast":
      return <ForecastView desk={desk} side={side} forecast={forecast} />;
  }
}

function frame_of({ desk, side, forecast }: Props): string {
  const { waiting, now } = desk.value;
  if (asks_for_act(forecast, side, waiting, now)) return "card act";
  return view_of(forecast, side, waiting, now) === "old" ? "card aged" : "card";
}

export function SideCard(props: Props) {
  const { desk, side } = props;
  const just = desk.value.recorded.filter((one) => one.side === side);
  return (
    <section class={frame_of(props)} data-side={side} aria-labelledby={`${side}-name`}>
      <h2 id={`${side}-name`} tabIndex={-1}>
        {side_name[side]}
      </h2>
      <Body {...props} />
      {just.map((one) => <JustRecorded key={one.entry.id} desk={desk} one={one} />)}
    </section>
  );
}
