// SPDX-License-Identifier: MIT
// The next weeks in one list: when each side's cells are due and when they are likely to be changed after that, visits,
// stays, orders. Where both sides are due within a few days of each other, the earlier evening does for both: then neither
// is changed later than its own date. A side that something on its way concerns has no date until that is sent, but for an
// order to change that stands.
import { both_sides, type ComingChange, type Forecast, type Side, type SideForecast } from "../api/types";
import { with_alarms } from "../state/alarms";
import { concerns, type Intention } from "../state/intention";
import { calls_for_change, is_old, order_stands } from "../state/side_view";
import { zone_of } from "../time/place";
import { moment_of } from "../time/zone";
import { tell } from "../words/catalogue/plan";
import { date_words, moment_words } from "../words/moments";
import { item_name, plan_words, side_name } from "../words/names";
import { date_of_day, day_number, shared_evenings } from "./evenings";

export interface Coming {
  at: number;
  words: string;
  /// Told by the forecast as likely, and no date to act by.
  likely?: boolean;
}

const week_ms = 7 * 86_400_000;
const weeks = 6;

function day_ms(date: string, zone: string): number {
  const [year = 0, month = 1, day = 1] = date.slice(0, 10).split("-").map(Number);
  return moment_of({ year, month, day, hour: 0, minute: 0 }, zone).getTime();
}

/// The earlier of both dates, where they lie on different evenings within a week and both are still to come.
export function one_evening(forecast: Forecast, now: Date): Date | null {
  const dates = both_sides.map((side) => {
    const told = forecast.sides[side];
    return told.change_by && !told.warned_at && !told.stopped_at ? Date.parse(told.change_by) : NaN;
  });
  const [first, last] = [Math.min(...dates), Math.max(...dates)];
  return first > now.getTime() && last > first && last - first <= week_ms ? new Date(first) : null;
}

/// The changes after the first, which stands apart as the date to act by. Once that has passed none is told: the page asks
/// then whether it was changed.
function later_changes({ change_by, coming_changes = [] }: SideForecast, now: Date): ComingChange[] {
  return change_by && Date.parse(change_by) > now.getTime() ? coming_changes.slice(1) : [];
}

/// The wider of both ways, so that no day of the range is left out.
function likely_words(side: Side, { at, earliest, latest }: ComingChange): string {
  const told = { side: side_name[side], day: date_words(at) };
  const count = Math.max(day_number(at) - day_number(earliest), day_number(latest) - day_number(at));
  return count > 0 ? tell("ahead.likely", { ...told, count }) : tell("ahead.likely_day", told);
}

/// Days of the weeks to come on which both sides are likely to be changed on one evening, the first change of each left out.
export function later_evenings({ sides }: Forecast, now: Date): string[] {
  const [left = [], right = []] = both_sides.map((side) => {
    const { change_by } = sides[side];
    const later = later_changes(sides[side], now);
    return change_by && later.length ? [change_by, ...later.map(({ at }) => at)].map(day_number) : [];
  });
  return shared_evenings(left, right).filter(({ first }) => !first).map(({ day }) => date_of_day(day));
}

/// The sides whose dates will be others once what waits is sent.
const undecided = ({ sides }: Forecast, waiting: readonly Intention[]): Side[] =>
  both_sides.filter((side) => waiting.some((one) => concerns(one, side)) && !order_stands(sides[side], side, waiting));

export function coming(forecast: Forecast, waiting: readonly Intention[], now: Date): Coming[] {
  const zone = zone_of(forecast);
  const left_out = undecided(forecast, waiting);
  const changes = both_sides.filter((side) => !left_out.includes(side)).flatMap((side: Side) => {
    const { change_by } = forecast.sides[side];
    return change_by ? [{ at: Date.parse(change_by), words: tell("ahead.change", { side: side_name[side], moment: moment_words(new Date(change_by), now, zone) }) }] : [];
  });
  const likely = both_sides.filter((side) => !waiting.some((one) => concerns(one, side))).flatMap((side: Side) =>
    later_changes(forecast.sides[side], now).map((change) => ({ at: Date.parse(change.at), words: likely_words(side, change), likely: true })));
  const plans = (forecast.plans ?? []).filter((plan) => Date.parse(plan.from) > now.getTime()).map((plan) => ({ at: Date.parse(plan.from), words: plan_words(plan) }));
  const orders = forecast.stock.flatMap(({ item, order_by, order_quantity }) =>
    order_by && order_quantity ? [{ at: day_ms(order_by, zone), words: tell("ahead.order", { item: item_name(item), date: date_words(order_by) }) }] : [],
  );
  return [...changes, ...likely, ...plans, ...orders].filter(({ at }) => at < now.getTime() + weeks * week_ms).sort((a, b) => a.at - b.at);
}

export function Ahead({ forecast, waiting, now }: { forecast: Forecast; waiting: readonly Intention[]; now: Date }) {
  const { sides } = with_alarms(forecast, waiting);
  const alarm = both_sides.some((side) => sides[side].warned_at ?? sides[side].stopped_at);
  if (is_old(forecast, now) || forecast.in_hospital || alarm) return null;
  const list = coming(forecast, waiting, now);
  const left_out = undecided(forecast, waiting);
  const apart = left_out.length > 0 || both_sides.some((side) => calls_for_change(forecast.sides[side]));
  const evening = apart ? null : one_evening(forecast, now);
  const evenings = apart ? [] : later_evenings(forecast, now);
  if (!list.length && !left_out.length) return null;
  return (
    <section class="card" aria-labelledby="ahead-name">
      <h2 id="ahead-name">{tell("ahead.title")}</h2>
      <ul>
        {left_out.map((side) => <li key={side}>{tell("ahead.not_sent", { side: side_name[side] })}</li>)}
        {list.map(({ at, words }) => <li key={`${at}${words}`}>{words}</li>)}
      </ul>
      {evening && <p class="strong">{tell("ahead.both", { moment: moment_words(evening, now, zone_of(forecast)) })}</p>}
      {evenings.length > 0 && <p class="small">{tell("ahead.both_later", { days: evenings.map(date_words).join("; ") })}</p>}
      <p class="small">{list.some(({ likely }) => likely) ? tell("ahead.likely_ones") : tell("ahead.later_ones")}</p>
    </section>
  );
}
