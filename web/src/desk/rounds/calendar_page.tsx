// SPDX-License-Identifier: MIT
// "Rounds and areas": the rules from which the rounds come, one a row, and what a pack holds.
import { useState } from "preact/hooks";
import { Refused } from "../../access/refused";
import { Asked } from "../common/asked";
import { date_words, today_of } from "../common/dates";
import { say_done } from "../common/done";
import { useDocument } from "../common/use_document";
import { useSend } from "../common/use_send";
import { count_of, list_words, state_words } from "../common/words";
import type { Calendar, Rule } from "../round_types";
import { kept_of } from "./kept_of";
import { Packs } from "./packs";
import { empty_rule, RuleForm, rule_words } from "./rule_form";
import { StandsNow } from "./stands_now";

function Recent({ calendar }: { calendar: Calendar }) {
  const today = today_of(new Date());
  if (!calendar.recent?.length) return null;
  return (
    <section aria-labelledby="recent-name">
      <h2 id="recent-name">Of the last fortnight</h2>
      <ul class="lines">
        {calendar.recent.map((one) => (
          <li key={one.round}>
            <a href={`#desk/round?${new URLSearchParams({ round: one.round })}`}>{date_words(one.date, today)}</a>
            {` ${one.round.replace(` ${one.date}`, "")}, ${count_of(one.stops, "stop")}, ${state_words[one.state]}`}
          </li>
        ))}
      </ul>
    </section>
  );
}

function AreasWithout({ calendar }: { calendar: Calendar }) {
  const without = calendar.areas.filter((area) => !calendar.rules.some((one) => one.area === area));
  return without.length ? <p class="line-urgent strong">{`No rule brings a round to ${list_words(without)}.`}</p> : null;
}

function Coming({ calendar }: { calendar: Calendar }) {
  const today = today_of(new Date());
  const shown = calendar.rounds.filter((one) => one.state !== "cancelled").slice(0, 24);
  return (
    <section aria-labelledby="coming-name">
      <h2 id="coming-name">The next rounds</h2>
      {shown.length === 0 && <p>None within the weeks planned.</p>}
      {shown.length > 0 && (
        <table class="numbers">
          <thead>
            <tr>
              <th scope="col">Round</th>
              <th scope="col">Stops</th>
              <th scope="col">A new stop until</th>
            </tr>
          </thead>
          <tbody>
            {shown.map((one) => (
              <tr key={one.round}>
                <th scope="row">
                  <a href={`#desk/plan?${new URLSearchParams({ round: one.round })}`}>{date_words(one.date, today)}</a>
                  {` ${one.round.replace(` ${one.date}`, "")}`}
                </th>
                <td>{`${one.stops} of ${one.stops_at_most}`}</td>
                <td>{date_words(one.last_day_to_plan, today)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}

function Rules({ calendar, again }: { calendar: Calendar; again: () => void }) {
  const [open, set_open] = useState<number | null>(null);
  const { busy, said, problem, clear, send } = useSend();
  const keep = async (rules: Rule[], follows: number): Promise<Calendar | null> => {
    const answer = await send<Calendar>("/calendar", { ...kept_of(calendar), rules, follows });
    if (answer) again();
    return answer;
  };
  const change = async (rules: Rule[], words: string, undone: string): Promise<void> => {
    const answer = await keep(rules, calendar.number);
    if (!answer) return;
    set_open(null);
    say_done(words, async () => ((await keep(calendar.rules, answer.number)) ? undone : null));
  };
  const with_rule = (rule: Rule, index: number): Rule[] => (index < calendar.rules.length ? calendar.rules.map((one, at) => (at === index ? rule : one)) : [...calendar.rules, rule]);
  const form = (index: number, rule: Rule) => (
    <RuleForm
      rule={rule} areas={calendar.areas} busy={busy} said={said} problem={problem} at={`/rules/${index}`} leave={() => set_open(null)}
      keep={(made) => void change(with_rule(made, index), `Rounds “${made.name}” are kept. The plan is made anew.`, `Rounds “${made.name}” are as they were.`)}
    />
  );
  return (
    <section aria-labelledby="rules-name">
      <h2 id="rules-name">Rules</h2>
      {open === null && <Refused said={said} />}
      <StandsNow problem={problem} clear={clear} again={again} />
      <AreasWithout calendar={calendar} />
      {calendar.rules.length === 0 && <p>No rounds yet: without a rule nothing can be planned.</p>}
      <ul class="lines">
        {calendar.rules.map((one, index) => (
          <li key={one.name}>
            {open === index ? form(index, one) : (
              <div class="stop-head">
                <p>
                  <b>{one.name}</b>
                  <small>{rule_words(one)}</small>
                </p>
                <button type="button" class="small-act" onClick={() => set_open(index)}>
                  Change<span class="unseen">{` ${one.name}`}</span>
                </button>
                <button
                  type="button" class="small-act" disabled={busy}
                  onClick={() => void change(calendar.rules.filter((_, at) => at !== index), `Rounds “${one.name}” are gone. Confirmed ones stay.`, `Rounds “${one.name}” are back.`)}
                >
                  Remove<span class="unseen">{` ${one.name}`}</span>
                </button>
              </div>
            )}
          </li>
        ))}
      </ul>
      {open === calendar.rules.length ? form(open, empty_rule) : (
        <button type="button" onClick={() => set_open(calendar.rules.length)}>
          Add rounds
        </button>
      )}
    </section>
  );
}

export function CalendarPage() {
  const asked = useDocument<Calendar>("/calendar");
  return (
    <>
      <h1 tabIndex={-1}>Rounds and areas</h1>
      <Asked asked={asked} what="the calendar">
        {(calendar) => (
          <div class="halves">
            <div>
              <Rules calendar={calendar} again={asked.again} />
              <Packs calendar={calendar} again={asked.again} />
            </div>
            <div>
              <Coming calendar={calendar} />
              <Recent calendar={calendar} />
            </div>
          </div>
        )}
      </Asked>
    </>
  );
}
