// SPDX-License-Identifier: MIT
// The first screen: the answer before the question, then what people come to do.
import { useLayoutEffect, useMemo, useRef } from "preact/hooks";
import type { Session } from "../api/access";
import { both_sides, type Forecast, type Side } from "../api/types";
import { useAgencyCard } from "../parts/agency_place";
import { WindowKey } from "../parts/key";
import { JustRecorded, Waiting } from "../parts/notes";
import { Overview } from "../parts/overview";
import { RecoveryNotice } from "../parts/recovery_notice";
import { AlarmCard, SideCard } from "../parts/side_card";
import { none_usable, StockCard } from "../parts/stock_card";
import type { Desk } from "../state/desk";
import { by_the_clock, small_hours_of_tonight } from "../state/dated";
import { is_plan, type Refusal } from "../state/intention";
import { open_screen } from "../state/screen";
import { may, may_perhaps } from "../state/session";
import { asks_for_act, is_old, view_of } from "../state/side_view";
import { unit_in_use } from "../state/units";
import { place_words, shows_clock_of, zone_of } from "../time/place";
import { answer_clock, right_clock, type Whose } from "../time/service_clock";
import { clocks_words } from "../words/clocks";
import { age_words, clock, heading_words, moment_words, night_words } from "../words/moments";
import { refusal_words } from "../words/refusals";
import { come_back } from "./screens";
import { tell } from "../words/catalogue/first";

const actions = [
  { screen: "change", words: tell("home.cells_changed"), needs: "record-use" },
  { screen: "reading", words: tell("home.note_a_reading"), needs: "record-readings" },
  { screen: "warned", words: tell("home.the_unit_warned"), needs: "record-readings" },
  { screen: "stock", words: tell("home.count_stock"), needs: "record-stock" },
  { screen: "away", words: tell("home.going_away"), needs: "record-plans" },
  { screen: "message", words: tell("home.tell_the_agency"), needs: "record-use" },
];

function NoSignal({ forecast, now, waiting }: { forecast: Forecast | null; now: Date; waiting: boolean }) {
  const shown = forecast
    ? tell("home.what_stands_here_was_computed", { clock: clock(new Date(forecast.as_of), zone_of(forecast)), age: age_words(now.getTime() - Date.parse(forecast.as_of)) })
    : tell("home.no_forecast_can_be_shown_in");
  return (
    <div class="notice" role="status">
      <p class="strong">{tell("home.this_phone_has_no_signal_the")}</p>
      <p>{waiting ? shown : tell("home.what_you_record_is_kept_on", { shown })}</p>
    </div>
  );
}

/// One at a time, and how many more: closing one shows the next.
function Refused({ desk, refusal, more }: { desk: Desk; refusal: Refusal; more: number }) {
  const { title, detail } = refusal_words(refusal);
  return (
    <div class="notice" role="alert">
      <p class="strong">{tell("home.not_recorded", { words: refusal.intention.words })}</p>
      <p>{title}</p>
      {detail && <p>{detail}</p>}
      {more > 0 && <p>{tell("home.more_not_recorded", { count: more })}</p>}
      <div class="answers">
        {refusal.intention.form && (
          <button type="button" onClick={() => come_back(desk, refusal)}>
            {tell("home.mend_it")}
          </button>
        )}
        <button type="button" onClick={() => desk.settle(refusal)}>
          {tell("home.close")}
        </button>
      </div>
    </div>
  );
}

function Notices({ desk }: { desk: Desk }) {
  const { signal, forecast, now, problem, refusals, waiting } = desk.value;
  const [refusal] = refusals;
  return (
    <>
      {!signal && <NoSignal forecast={forecast} now={now} waiting={waiting.length > 0} />}
      {signal && problem && (
        <div class="notice" role="alert">
          <p class="strong">{problem.status === 404 ? tell("home.there_is_no_household_of_this") : refusal_words({ problem }).title}</p>
          <p>{refusal_words({ problem }).detail || tell("home.in_doubt_fresh_cells_in_both")}</p>
        </div>
      )}
      {refusal && <Refused key={refusal.intention.key} desk={desk} refusal={refusal} more={refusals.length - 1} />}
    </>
  );
}

/// It asks which is right; the answer is kept, and the other one stays at hand.
function Clocks({ desk, zone }: { desk: Desk; zone: string }) {
  const said = clocks_words(desk.value.now, zone);
  if (!said) return null;
  const answer = (whose: Whose, words: string) =>
    right_clock() !== whose && (
      <button type="button" onClick={() => (answer_clock(whose), desk.set({}))}>
        {words}
      </button>
    );
  return (
    <div class="notice" role="status">
      <p class="strong">{said.title}</p>
      <p>{said.detail}</p>
      <div class="answers">
        {answer("phone", tell("clocks.the_phone_s"))}
        {answer("service", tell("clocks.the_service_s"))}
      </div>
    </div>
  );
}

/// Plans on their way and just recorded, a stay with what to pack; and, before any forecast is here, all that is on
/// its way, which else stands in its side's card.
function Planned({ desk }: { desk: Desk }) {
  const { waiting, recorded, forecast } = desk.value;
  const on_the_way = waiting.filter((one) => (!forecast && one.about !== "agency") || (is_plan(one) && !one.sides?.length));
  const plans = recorded.filter(is_plan);
  if (!on_the_way.length && !plans.length) return null;
  return (
    <section class="card" aria-labelledby="planned-name">
      <h2 id="planned-name">{plans.length || on_the_way.every(is_plan) ? tell("home.planned") : tell("home.being_sent")}</h2>
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
      <h2 id="hospital-name">{tell("home.in_hospital_since", { moment: moment_words(new Date(stay.since), desk.value.now, zone) })}</h2>
      <p>{tell("home.nothing_is_forecast_or_asked_until")}</p>
      <button type="button" class="main" onClick={() => open_screen("back_home")}>
        {tell("home.back_home")}
      </button>
      <p>
        <a class="way" href="#handover">{tell("home.handover")}</a>
      </p>
    </section>
  );
}

/// A side's card, drawn anew only where something changed of what it shows. Of the household's document that is the unit in
/// use, and what is counted where the forecast is too old to name cells or was made before an alarm that waits.
function Card({ desk, side, forecast }: { desk: Desk; side: Side; forecast: Forecast }) {
  const { waiting, recorded, now, household } = desk.value;
  const of_household = is_old(forecast, now) || waiting.length ? household : unit_in_use(household)?.stimulator;
  return useMemo(() => <SideCard desk={desk} side={side} forecast={forecast} />, [desk, side, forecast, waiting, recorded, now, of_household]);
}

/// Both sides, then the stock; where there is nothing to change to and no side asks for an act, the stock first.
function Answers({ desk, forecast }: { desk: Desk; forecast: Forecast }) {
  const { waiting, recorded, now, household, session } = desk.value;
  const unit = unit_in_use(household)?.cells_in_series;
  const calm = !both_sides.some((side) => asks_for_act(forecast, side, waiting, now));
  const stock_first = calm && none_usable(forecast);
  const key = useMemo(() => <WindowKey />, []);  // the same always: it is not looked through again
  const stock = useMemo(() => <StockCard desk={desk} forecast={forecast} />, [desk, forecast, waiting, recorded, now, unit, session]);
  const windows = both_sides.some((side) => view_of(forecast, side, waiting, now) === "forecast" && forecast.sides[side].nights?.length);
  return (
    <>
      <Overview desk={desk} forecast={forecast} />
      {stock_first && stock}
      {both_sides.map((side) => <Card key={side} desk={desk} side={side} forecast={forecast} />)}
      {windows && key}
      {!stock_first && stock}
    </>
  );
}

function Line({ screen, words }: { screen: string; words: string }) {
  return (
    <button type="button" class="plain line" onClick={() => open_screen(screen)}>
      {words}
    </button>
  );
}

/// What people come to do, in the order of how often.
function Ways({ session, plans }: { session: Session | null; plans: number | undefined }) {
  return (
    <>
      <nav class="actions" aria-label={tell("home.what_to_record")}>
        {actions.filter(({ needs }) => may_perhaps(session, needs)).map((action, index) => (
          <button type="button" class={index === 0 ? "main" : undefined} key={action.screen} onClick={() => open_screen(action.screen)}>
            {action.words}
          </button>
        ))}
      </nav>
      {(may_perhaps(session, "record-plans") || may(session, "record-setup")) && <Line screen="plans" words={plans ? tell("home.what_is_planned", { plans }) : tell("home.what_is_planned_2")} />}
      <Line screen="entries" words={tell("home.what_was_recorded")} />
      <Line screen="reminders" words={tell("home.reminders")} />
      {may(session, "see-phones") && <Line screen="phones" words={tell("home.phones_of_this_home")} />}
    </>
  );
}

/// `away` changes while another screen is open: on the way back from it the focus goes to the heading, so that reading
/// starts at the top again.
export function Home({ desk, away }: { desk: Desk; away: number }) {
  const heading = useRef<HTMLHeadingElement>(null);
  useLayoutEffect(() => {
    if (!away) return;
    window.scrollTo(0, 0);
    heading.current?.focus({ preventScroll: true });
  }, [away]);
  const { forecast, household, now, problem, session, from_phone, signal, slow, waiting } = desk.value;
  const home_zone = household?.zone ?? forecast?.zone;
  const zone = forecast?.zone_now ?? home_zone;
  const plans = forecast?.plans?.length;
  const agency = useAgencyCard(desk);
  const ways = useMemo(() => <Ways session={session} plans={plans} />, [session, plans]);
  const settled = (forecast && agency.settled) || problem || !signal || slow || waiting.length > 0;  // until then what stood here would move away from under a finger
  return (
    <main>
      <h1 class="unseen" ref={heading} tabIndex={-1}>{tell("home.cells_of_household", { name: desk.name })}</h1>
      {zone && (
        <p class="clock">
          <span>{heading_words(now, zone)}</span> {!shows_clock_of(zone, now) && <span>{tell("home.clock", { place: place_words(zone, home_zone ?? zone) })}</span>}{" "}
          <span>{tell("home.tonight", { night: night_words(small_hours_of_tonight(zone, now), zone) })}</span>
        </p>
      )}
      <Notices desk={desk} />
      {zone && <Clocks desk={desk} zone={zone} />}
      {zone && <RecoveryNotice desk={desk} zone={zone} />}
      {!problem && signal && (!forecast || from_phone) && <p role="status">{forecast ? tell("home.asking_for_a_newer_forecast") : tell("home.asking_for_the_forecast")}</p>}
      {zone && <InHospital desk={desk} zone={zone} />}
      {forecast ? <Answers desk={desk} forecast={by_the_clock(forecast, now)} /> : both_sides.map((side) => <AlarmCard key={side} desk={desk} side={side} />)}
      {agency.Card && <agency.Card desk={desk} />}
      <Planned desk={desk} />
      {settled && ways}
    </main>
  );
}
