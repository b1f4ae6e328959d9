// SPDX-License-Identifier: MIT
// A stop moved, left out or added by hand. What follows from it is shown first; only then can it be kept.
import { useState } from "preact/hooks";
import { Refused } from "../../access/refused";
import { date_words, today_of } from "../common/dates";
import { say_done } from "../common/done";
import { useSend } from "../common/use_send";
import { count_of, packs } from "../common/words";
import type { Calendar, Change, Consequence, Left, Plan, PlanRound } from "../round_types";
import { rounds_for, shortfall_words } from "./plan_model";
import { StandsNow } from "./stands_now";

interface Props {
  round: PlanRound;
  plan: Plan;
  calendar: Calendar | null;
  again: () => void;
}

const left_out = "-";

function Falls({ title, who, today }: { title: string; who: readonly Left[]; today: string }) {
  if (!who.length) return null;
  return (
    <>
      <p class="strong">{title}</p>
      <ul>
        {who.map((one) => (
          <li key={`${one.household}${one.item}${one.deliver_by}`}>
            {one.text ?? `${one.household}: ${packs(one.packs)} of ${one.item} by ${date_words(one.deliver_by, today)}${one.late_on ? `, would come on ${date_words(one.late_on, today)}` : ", would not come"}`}
          </li>
        ))}
      </ul>
    </>
  );
}

function signed(n: number, one: string): string {
  return n === 0 ? `the same number of ${one}s` : n > 0 ? `${count_of(n, one)} more` : `${count_of(-n, one)} fewer`;
}

/// The service's own sentences; those that the lists under them say are not said twice.
function Follows({ told }: { told: Consequence }) {
  const today = today_of(new Date());
  const { replanned } = told;
  const harm = told.falls.length > 0 || told.over_the_limit || told.leaves_too_soon;
  const listed = new Set([...told.falls, ...told.no_longer].map((one) => one.text));
  const sentences = told.text.filter((one) => !listed.has(one));
  if (!sentences.length && !harm) sentences.push("Nobody falls short because of it.");
  const anew = `With the rest planned anew around it: ${signed(replanned.visits_more, "visit")}${replanned.moves.length ? `, ${count_of(replanned.moves.length, "confirmed stop")} moved` : ""}.`;
  if (!sentences.some((one) => one.includes("anew"))) sentences.push(anew);
  return (
    <div class={harm ? "follows line-urgent" : "follows"} role="status">
      <h3>What follows</h3>
      <ul>
        {sentences.map((one) => <li key={one}>{one}</li>)}
      </ul>
      <Falls title="These would fall short" who={told.falls} today={today} />
      <Falls title="These no longer would" who={told.no_longer} today={today} />
      {told.risk_more > 0 && <p>{`Expected shortfalls, beside the plan's: ${shortfall_words(told.risk_more)} more; with the rest planned anew ${replanned.risk_more > 0 ? `${shortfall_words(replanned.risk_more)} more` : "none more"}.`}</p>}
      {replanned.moves.length > 0 && (
        <>
          <p class="strong">Confirmed stops that would move</p>
          <ul>
            {replanned.moves.map((one) => <li key={one.stop + one.round}>{`${one.stop}, from ${one.round}`}</li>)}
          </ul>
        </>
      )}
    </div>
  );
}

interface FollowsProps extends Props {
  change: Change;
  words: string;
  done: () => void;
}

/// Asks what follows as soon as it is known what is meant, then offers to keep it.
function Weighing({ change, words, again, done }: FollowsProps) {
  const asking = useSend();
  const keeping = useSend();
  const [told, set_told] = useState<{ of: string; got: Consequence } | null>(null);
  const meant = JSON.stringify(change);
  const ask = async (): Promise<void> => {
    const got = await asking.send<Consequence>("/plan/consequence", change);
    if (got) set_told({ of: meant, got });
  };
  const undo = async (tag: string): Promise<string | null> => {
    let newest = tag;
    for (const round of [change.from, change.to].filter((one) => one !== undefined)) {
      const answer = await keeping.send<{ plan: string }>("/plan/decisions", { plan: newest, stop: change.stop, round, clear: true });
      if (!answer) return null;
      newest = answer.plan;
    }
    again();
    return `${change.stop} is as it was planned.`;
  };
  const keep = async (): Promise<void> => {
    const answer = await keeping.send<{ plan: string }>("/plan/decisions", change);
    if (!answer) return;
    say_done(words, () => undo(answer.plan));
    done();
    again();
  };
  const clear = (): void => {
    asking.clear();
    keeping.clear();
  };
  const shown = told?.of === meant ? told.got : null;
  return (
    <>
      <Refused said={asking.said ?? keeping.said} />
      <StandsNow problem={asking.problem ?? keeping.problem} clear={clear} again={again} />
      {shown && <Follows told={shown} />}
      <div class="answers">
        {shown ? (
          <button type="button" class="main" disabled={keeping.busy} onClick={() => void keep()}>
            Yes, do so
          </button>
        ) : (
          <button type="button" disabled={asking.busy} onClick={() => void ask()}>
            {asking.busy ? "Working it out…" : "Show what follows"}
          </button>
        )}
        <button type="button" onClick={done}>
          No, leave it as it is
        </button>
      </div>
    </>
  );
}

export function Adjust({ stop, from, done, ...props }: Props & { stop: string; from: string; done: () => void }) {
  const { calendar, round, plan } = props;
  const [to, set_to] = useState("");
  const today = today_of(new Date());
  const change: Change = { plan: plan.plan, stop, from, ...(to !== left_out && { to }) };
  return (
    <div class="adjust">
      <label class="pick">
        <span>{`Move ${stop} to`}</span>
        <select value={to} onChange={(event) => set_to(event.currentTarget.value)}>
          <option value="">Choose</option>
          <option value={left_out}>No round: leave it out</option>
          {rounds_for(calendar?.rounds ?? [], round.area, from).map((one) => (
            <option key={one.round} value={one.round}>
              {`${date_words(one.date, today)}, ${one.round.replace(` ${one.date}`, "")}, ${one.stops} of ${one.stops_at_most}`}
            </option>
          ))}
        </select>
      </label>
      {to && <Weighing {...props} change={change} words={to === left_out ? `${stop} is left out of ${from}.` : `${stop} goes on ${to}.`} done={done} />}
    </div>
  );
}

export function Adding(props: Props) {
  const [open, set_open] = useState(false);
  const [stop, set_stop] = useState("");
  const { round, plan } = props;
  const done = (): void => {
    set_open(false);
    set_stop("");
  };
  if (!open) {
    return (
      <button type="button" onClick={() => set_open(true)}>
        Add a stop by hand
      </button>
    );
  }
  const meant = stop.trim();
  return (
    <div class="adjust">
      <label class="pick">
        <span>Stop to add (its code, or the household's reference)</span>
        <input value={stop} maxLength={60} autocomplete="off" onInput={(event) => set_stop(event.currentTarget.value)} />
      </label>
      {meant ? (
        <Weighing {...props} change={{ plan: plan.plan, stop: meant, to: round.round }} words={`${meant} goes on ${round.round}.`} done={done} />
      ) : (
        <button type="button" onClick={done}>
          Leave it
        </button>
      )}
    </div>
  );
}
