// SPDX-License-Identifier: MIT
// The first screen: the answer before the question, then what people come to do.
import { useEffect, useRef } from "preact/hooks";
import { both_sides, type Forecast } from "../api/types";
import { WindowKey } from "../parts/key";
import { JustRecorded, Waiting } from "../parts/notes";
import { Overview } from "../parts/overview";
import { SideCard } from "../parts/side_card";
import { none_usable, StockCard } from "../parts/stock_card";
import type { Desk } from "../state/desk";
import { is_plan } from "../state/intention";
import { open_screen } from "../state/screen";
import { asks_for_act, view_of } from "../state/side_view";
import { place_words, zone_of } from "../time/place";
import { age_words, clock, heading_words, moment_words } from "../words/moments";

const actions = [
  { screen: "change", words: "Cells changed" },
  { screen: "reading", words: "Note a reading" },
  { screen: "warned", words: "The unit warned" },
  { screen: "stock", words: "Count stock" },
  { screen: "away", words: "Going away" },
];

function NoSignal({ forecast, now, waiting }: { forecast: Forecast | null; now: Date; waiting: boolean }) {
  const shown = forecast
    ? `What stands here was computed ${clock(new Date(forecast.as_of), zone_of(forecast))}, ${age_words(now.getTime() - Date.parse(forecast.as_of))}.`
    : "No forecast can be shown. In doubt: fresh cells in both sides.";
  return (
    <div class="notice" role="status">
      <p class="strong">This phone has no signal. The unit does not need it.</p>
      <p>{waiting ? shown : `${shown} What you record is sent when the signal is back while this page is open.`}</p>
    </div>
  );
}

function Notices({ desk }: { desk: Desk }) {
  const { signal, forecast, now, problem, refusal, waiting } = desk.value;
  return (
    <>
      {!signal && <NoSignal forecast={forecast} now={now} waiting={waiting.length > 0} />}
      {signal && problem && (
        <div class="notice" role="alert">
          <p class="strong">{problem.status === 404 ? "There is no household of this name." : problem.title}</p>
          <p>{problem.detail ?? "In doubt: fresh cells in both sides."}</p>
        </div>
      )}
      {refusal && !refusal.intention.form && (
        <div class="notice" role="alert">
          <p class="strong">{`Not recorded: ${refusal.intention.words}.`}</p>
          <p>{refusal.problem.errors?.[0]?.reason ?? refusal.problem.detail ?? refusal.problem.title}</p>
          <button type="button" onClick={() => desk.set({ refusal: null })}>
            Close
          </button>
        </div>
      )}
    </>
  );
}

/// Plans on their way and just recorded, a stay with what to pack; and, before any forecast is here, all that is on
/// its way, which else stands in its side's card.
function Planned({ desk }: { desk: Desk }) {
  const { waiting, recorded, forecast } = desk.value;
  const on_the_way = waiting.filter((one) => !forecast || (is_plan(one) && !one.sides?.length));
  const plans = recorded.filter(is_plan);
  if (!on_the_way.length && !plans.length) return null;
  return (
    <section class="card" aria-labelledby="planned-name">
      <h2 id="planned-name">{plans.length || on_the_way.every(is_plan) ? "Planned" : "Being sent"}</h2>
      {on_the_way.map((one) => <Waiting key={one.key} intention={one} />)}
      {plans.map((one) => <JustRecorded key={one.entry.id} desk={desk} one={one} />)}
    </section>
  );
}

/// While in hospital there is nothing to forecast and nothing to ask: only the way back.
function InHospital({ desk, zone }: { desk: Desk; zone: string }) {
  const stay = desk.value.forecast?.in_hospital;
  if (!stay) return null;
  return (
    <section class="card" aria-labelledby="hospital-name" data-hospital>
      <h2 id="hospital-name">{`In hospital since ${moment_words(new Date(stay.since), desk.value.now, zone)}`}</h2>
      <p>Nothing is forecast or asked until back home.</p>
      <button type="button" class="main" onClick={() => open_screen("back_home")}>
        Back home
      </button>
    </section>
  );
}

/// Both sides, then the stock; where there is nothing to change to and no side asks for an act, the stock first.
function Answers({ desk, forecast }: { desk: Desk; forecast: Forecast }) {
  const { waiting, now } = desk.value;
  const calm = !both_sides.some((side) => asks_for_act(forecast, side, waiting, now));
  const stock_first = calm && none_usable(forecast);
  const windows = both_sides.some((side) => view_of(forecast, side, waiting, now) === "forecast" && forecast.sides[side].nights?.length);
  return (
    <>
      <Overview desk={desk} forecast={forecast} />
      {stock_first && <StockCard desk={desk} forecast={forecast} />}
      {both_sides.map((side) => <SideCard key={side} desk={desk} side={side} forecast={forecast} />)}
      {windows && <WindowKey />}
      {!stock_first && <StockCard desk={desk} forecast={forecast} />}
    </>
  );
}

/// `returned` from another screen: the focus goes to the heading, so that reading starts at the top again.
export function Home({ desk, returned }: { desk: Desk; returned: boolean }) {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    if (!returned) return;
    window.scrollTo(0, 0);
    heading.current?.focus({ preventScroll: true });
  }, []);
  const { forecast, household, now, problem } = desk.value;
  const home_zone = household?.zone ?? forecast?.zone;
  const zone = forecast?.zone_now ?? home_zone;
  const plans = forecast?.plans?.length;
  return (
    <main>
      <h1 class="unseen" ref={heading} tabIndex={-1}>{`Cells of household ${desk.name}`}</h1>
      {zone && (
        <p class="clock">
          <span>{heading_words(now, zone)}</span> <span>{zone === home_zone ? "home time" : `time ${place_words(zone, home_zone ?? zone)}`}</span>
        </p>
      )}
      <Notices desk={desk} />
      {!forecast && !problem && desk.value.signal && <p role="status">Asking for the forecast…</p>}
      {zone && <InHospital desk={desk} zone={zone} />}
      {forecast && <Answers desk={desk} forecast={forecast} />}
      <Planned desk={desk} />
      <nav class="actions" aria-label="What to record">
        {actions.map((action, index) => (
          <button type="button" class={index === 0 ? "main" : undefined} key={action.screen} onClick={() => open_screen(action.screen)}>
            {action.words}
          </button>
        ))}
      </nav>
      <button type="button" class="plain line" onClick={() => open_screen("plans")}>
        {plans ? `What is planned (${plans})` : "What is planned"}
      </button>
      <button type="button" class="plain line" onClick={() => open_screen("entries")}>
        What was recorded
      </button>
    </main>
  );
}
