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
import { open_screen } from "../state/screen";
import { asks_for_act, view_of } from "../state/side_view";
import { age_words, clock, heading_words } from "../words/moments";

const actions = [
  { screen: "change", words: "Cells changed" },
  { screen: "reading", words: "Note a reading" },
  { screen: "warned", words: "The unit warned" },
  { screen: "stock", words: "Count stock" },
  { screen: "away", words: "Going away" },
];

function NoSignal({ forecast, now, waiting }: { forecast: Forecast | null; now: Date; waiting: boolean }) {
  const shown = forecast
    ? `What stands here was computed ${clock(new Date(forecast.as_of), forecast.zone)}, ${age_words(now.getTime() - Date.parse(forecast.as_of))}.`
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

/// Stays on their way and just recorded, the second with what to pack; and, before any forecast is here, all that
/// is on its way, which else stands in its side's card.
function Stays({ desk }: { desk: Desk }) {
  const { waiting, recorded, forecast } = desk.value;
  const on_the_way = waiting.filter((one) => one.about === "away" || !forecast);
  const stays = recorded.filter((one) => one.about === "away");
  if (!on_the_way.length && !stays.length) return null;
  return (
    <section class="card" aria-labelledby="away-name">
      <h2 id="away-name">{stays.length || on_the_way.every((one) => one.about === "away") ? "Going away" : "Being sent"}</h2>
      {on_the_way.map((one) => <Waiting key={one.key} intention={one} />)}
      {stays.map((one) => <JustRecorded key={one.entry.id} desk={desk} one={one} />)}
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
  const zone = household?.zone ?? forecast?.zone;
  return (
    <main>
      <h1 class="unseen" ref={heading} tabIndex={-1}>{`Cells of household ${desk.name}`}</h1>
      {zone && (
        <p class="clock">
          <span>{heading_words(now, zone)}</span> <span>home time</span>
        </p>
      )}
      <Notices desk={desk} />
      {!forecast && !problem && desk.value.signal && <p role="status">Asking for the forecast…</p>}
      {forecast && <Answers desk={desk} forecast={forecast} />}
      <Stays desk={desk} />
      <nav class="actions" aria-label="What to record">
        {actions.map((action, index) => (
          <button type="button" class={index === 0 ? "main" : undefined} key={action.screen} onClick={() => open_screen(action.screen)}>
            {action.words}
          </button>
        ))}
      </nav>
      <button type="button" class="plain" onClick={() => open_screen("entries")}>
        What was recorded
      </button>
    </main>
  );
}
