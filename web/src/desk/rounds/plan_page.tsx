// SPDX-License-Identifier: MIT
// "The plan": which household on which round, week by week; a round opens beside it, and is adjusted and confirmed there.
import { useEffect, useRef, useState } from "preact/hooks";
import { Refused } from "../../access/refused";
import { problem_code } from "../../api/client";
import type { Problem } from "../../api/types";
import { open_screen } from "../../state/screen";
import { Asked } from "../common/asked";
import { date_words, moment, today_of } from "../common/dates";
import { useDocument, type Asked as AskedFor } from "../common/use_document";
import { count_of, packs, state_words } from "../common/words";
import { Picked } from "../list/filters";
import type { Calendar, Plan, PlanRound } from "../round_types";
import { Confirming } from "./confirming";
import { is_open, merit_words, shortfall_words, street_of, weeks_of } from "./plan_model";
import { PlannedRound } from "./planned_round";
import { Street, StreetKey } from "./street";

const to_round = (round: string, area: string): string => `#desk/plan?${new URLSearchParams({ ...(area && { area }), round })}`;

function Short({ plan }: { plan: Plan }) {
  if (!plan.left.length) return null;
  const homes = new Set(plan.left.map((one) => one.household)).size;
  const missing = plan.left.reduce((sum, one) => sum + one.packs, 0);
  return (
    <section class="first" aria-labelledby="short-name">
      <h2 id="short-name">{`${count_of(homes, "household")} cannot be served in time`}</h2>
      <p>{`${packs(missing)} come too late or not at all${plan.figures.stock_short ? ", and the agency's store is short" : ""}. Expected shortfalls: ${shortfall_words(plan.figures.risk)}.`}</p>
      <p>
        <a href="#desk/short">Who they are, and what would help</a>
      </p>
    </section>
  );
}

function NotPlanned({ plan }: { plan: Plan }) {
  if (!plan.not_planned.length) return null;
  return (
    <details>
      <summary>{`${count_of(plan.not_planned.length, "household")} not in the plan`}</summary>
      <ul>
        {plan.not_planned.map((one) => (
          <li key={one.household}>
            <a href={`#desk?${new URLSearchParams({ household: one.household })}`}>{one.household}</a>
            {` ${one.what}`}
          </li>
        ))}
      </ul>
    </details>
  );
}

interface LineProps {
  round: PlanRound;
  area: string;
  today: string;
  open: boolean;
  ticked: boolean;
  tick: (on: boolean) => void;
}

function RoundLine({ round, area, today, open, ticked, tick }: LineProps) {
  const late = round.stops.filter((one) => one.late).length;
  const said = [state_words[round.state], round.changed && round.state !== "open" && "changed since", late > 0 && `${late} too late`].filter(Boolean).join(", ");
  return (
    <li class={open ? "round-line open" : "round-line"}>
      {is_open(round) ? (
        <label class="tick">
          <input type="checkbox" checked={ticked} onChange={(event) => tick(event.currentTarget.checked)} />
          <span class="unseen">{`Confirm ${round.round}`}</span>
        </label>
      ) : (
        <span class="tick" aria-hidden="true" />
      )}
      <a class="round-name" href={to_round(round.round, area)} aria-current={open ? "true" : undefined}>
        <b>{date_words(round.date, today)}</b>
        <small>{round.round.replace(` ${round.date}`, "")}</small>
      </a>
      <Street houses={street_of(round)} />
      <span class="round-said">
        {`${round.stops.length} of ${count_of(round.stops_at_most, "stop")}`}
        <small>{said}</small>
      </span>
    </li>
  );
}

interface Props {
  plan: Plan;
  again: () => void;
  area: string;
  chosen: string;
}

function Weeks({ plan, again, area, chosen }: Props) {
  const [ticked, set_ticked] = useState<readonly string[]>([]);
  const today = today_of(new Date());
  const rounds = plan.rounds.filter((one) => !area || one.area === area);
  const open = rounds.filter(is_open).map((one) => one.round);
  const chosen_ones = ticked.filter((one) => open.includes(one));
  const turn = (round: string, on: boolean): void => set_ticked(on ? [...ticked, round] : ticked.filter((one) => one !== round));
  return (
    <>
      <Confirming plan={plan} rounds={chosen_ones} all={open} choose={set_ticked} again={again} />
      <StreetKey />
      {rounds.length === 0 && <p>No round has a stop here. Rounds come from the calendar under “Rounds and areas”.</p>}
      {weeks_of(rounds).map(({ monday, rounds: of_week }) => (
        <section key={monday} class="week" aria-label={`Week of ${date_words(monday, today)}`}>
          <h2>{`Week of ${date_words(monday, today)}`}</h2>
          <ul class="round-lines">
            {of_week.map((one) => (
              <RoundLine key={one.round} round={one} area={area} today={today} open={one.round === chosen} ticked={ticked.includes(one.round)} tick={(on) => turn(one.round, on)} />
            ))}
          </ul>
        </section>
      ))}
    </>
  );
}

function Moved({ plan }: { plan: Plan }) {
  if (!plan.moved.length) return null;
  return (
    <details>
      <summary>{`${count_of(plan.moved.length, "confirmed stop")} would move`}</summary>
      <ul>
        {plan.moved.map((one) => <li key={one.stop + one.round}>{`${one.stop}, not on ${one.round}`}</li>)}
      </ul>
    </details>
  );
}

const not_yet_ms = 3_000;

/// Until every household has a forecast there is no plan; it comes by itself.
function NotYet({ asked }: { asked: AskedFor<Plan> }) {
  const { computed, of } = asked.problem as Problem & { computed?: number; of?: number };
  useEffect(() => {
    if (asked.busy) return undefined;
    const timer = setTimeout(asked.again, not_yet_ms);
    return () => clearTimeout(timer);
  }, [asked.busy]);
  return (
    <p class="computing" role="status">
      <progress value={computed} max={of || undefined} aria-label="Forecasts computed" />
      {computed === undefined ? " The forecasts are being computed; the plan follows." : ` ${computed} of ${of} forecasts are computed; the plan follows.`}
    </p>
  );
}

const is_not_yet = (asked: AskedFor<Plan>): boolean => !asked.got && asked.problem !== null && problem_code(asked.problem) === "no-forecast-yet";

export function PlanPage({ area, round }: { area: string; round: string }) {
  const plan = useDocument<Plan>("/plan");
  const calendar = useDocument<Calendar>("/calendar");
  const today = today_of(new Date());
  const again = (): void => {
    plan.again();
    calendar.again();
  };
  const held = useRef<Problem | null>(null);
  if (is_not_yet(plan)) held.current = plan.problem;
  else if (plan.got || plan.said) held.current = null;
  const not_yet = held.current;
  const choose = (to: string): void => open_screen("desk/plan", { ...(to && { area: to }) });
  const opened = plan.got?.rounds.find((one) => one.round === round) ?? empty_round(calendar.got, round);
  return (
    <div class={round ? "two-leaves with-beside" : "two-leaves"}>
      <div class="leaf">
        <h1 tabIndex={-1}>The plan</h1>
        <Refused said={calendar.said} />
        {not_yet ? <NotYet asked={{ ...plan, problem: not_yet }} /> : null}
        <Asked asked={not_yet ? { ...plan, said: null } : plan} what="the plan">
          {(got) => (
            <>
              <p class="small">{`As of ${moment(got.as_of, today)}. ${merit_words(got.figures)} Computed in ${got.figures.seconds.toFixed(1)} s.`}</p>
              <Short plan={got} />
              <Moved plan={got} />
              <NotPlanned plan={got} />
              <div class="filters">
                <Picked name="Area" value={area} choices={[{ value: "", words: "All areas" }, ...(calendar.got?.areas ?? []).map((one) => ({ value: one, words: one }))]} change={choose} />
              </div>
              <Weeks plan={got} again={again} area={area} chosen={round} />
            </>
          )}
        </Asked>
      </div>
      {round && plan.got && opened && (
        <PlannedRound key={round} round={opened} plan={plan.got} calendar={calendar.got} again={again} close={() => choose(area)} />
      )}
    </div>
  );
}

function empty_round(calendar: Calendar | null, round: string): PlanRound | null {
  const one = calendar?.rounds.find((other) => other.round === round);
  return one ? { round, area: one.area, date: one.date, state: one.state, stops_at_most: one.stops_at_most, stops: [], changed: false, number: one.number } : null;
}
