// SPDX-License-Identifier: MIT
// The page of one household: its desk, and which screen is open.
import { useEffect, useMemo, useRef } from "preact/hooks";
import { context_of } from "../forms/context_of";
import { Foot } from "../parts/foot";
import { Later } from "../parts/later";
import { recorded_words, waiting_words } from "../parts/notes";
import { SetAside } from "../parts/set_aside";
import { Desk, type DeskState } from "../state/desk";
import { fetch_when_idle } from "../state/part";
import { useScreen, type Screen } from "../state/screen";
import { useStore } from "../state/store";
import { Home } from "./home";
import { all_parts, come_back, is_form, part_named, shows_no_forecast, way_on } from "./screens";
import { ShutOut } from "./shut_out";
import { Wrong } from "./wrong";
import { alarm_first, disclaimer } from "../words/cautions";
import { tell } from "../words/catalogue/first";

/// Read out by a screen reader as it changes.
function said_of({ waiting, recorded, now }: DeskState, zone: string): string {
  const on_the_way = waiting.at(-1);
  if (on_the_way) return waiting_words(on_the_way);
  const last = recorded.at(-1);
  return last ? tell("household_page.it_can_be_undone_for_two", { recorded: recorded_words(last, zone, now) }) : "";
}

/// The screen that stands before the first one, if there is one.
function Before({ desk, screen }: { desk: Desk; screen: Screen }) {
  const part = part_named(screen.name);
  const done = way_on(screen);
  if (screen.name === "wrong") return <Wrong />;
  if (!part) return null;
  return (
    <Later part={part} back={done} key={window.location.hash}>
      {(screens) => {
        const Page = screens[screen.name];
        return Page && <Page desk={desk} given={screen.given} done={done} />;
      }}
    </Later>
  );
}

function Open({ desk, screen }: { desk: Desk; screen: Screen }) {
  const { shut_out, waiting, now } = desk.value;
  const at_home = screen.name !== "wrong" && !part_named(screen.name);
  const away = useRef(0);
  if (!at_home) away.current++;
  if (shut_out && screen.name !== "more" && screen.name !== "wrong") return <ShutOut problem={shut_out} waiting={waiting} now={now} />;
  return (
    <>
      {!shut_out && (
        <SetAside open={at_home} near={is_form(screen.name)}>
          <Home desk={desk} away={away.current} />
        </SetAside>
      )}
      <Before desk={desk} screen={screen} />
    </>
  );
}

export function HouseholdPage({ name }: { name: string }) {
  const desk = useMemo(() => new Desk(name), [name]);
  const state = useStore(desk);
  const { refusals, forecast } = state;
  const screen = useScreen();
  useEffect(() => desk.start(), [desk]);
  useEffect(() => {
    if (is_form(screen.name)) return;  // what is typed there goes first
    const refusal = refusals.find(({ intention, shown }) => intention.form && !shown);
    if (refusal) come_back(desk, refusal);
  }, [refusals, screen]);

  const says = shows_no_forecast(screen.name) ? alarm_first : disclaimer;
  const foot = useMemo(() => <Foot says={says} />, [says]);  // the same mostly: it is not looked through again
  const here = Boolean(forecast);
  useEffect(() => {
    if (here) fetch_when_idle(all_parts);
  }, [here]);

  return (
    <>
      <Open desk={desk} screen={screen} />
      {screen.name !== "wrong" && foot}
      <div class="unseen" role="status">
        {said_of(state, context_of(desk).zone)}
      </div>
    </>
  );
}
