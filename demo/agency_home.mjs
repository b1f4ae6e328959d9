// SPDX-License-Identifier: MIT
// One home of the invented agency: some months of changes and readings, what came, what stands in the cupboard.
import { day_ms, hour_ms, moment } from './calendar.mjs';
import { deliveryOf } from './agency_rounds.mjs';
import { chance } from './chance.mjs';
import { liveSide } from './side.mjs';
import { areas, bad_lot, bad_lot_holds, drift, drifting_homes_lot, expiryOf, far_area, hasDriftingUnit, lotAt, right_lot, storyOf, unitsOf, wrong_lot } from './agency_scheme.mjs';

const everyDay = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'];
const clock = (minutes) => `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
/** When people pace: the night; the night and a rest; the evening too; nearly all day. */
const waysToPace = [[[21 * 60, 7 * 60]], [[21 * 60, 7 * 60], [13 * 60, 15 * 60]], [[20 * 60, 8 * 60], [13 * 60, 16 * 60]], [[18 * 60, 10 * 60]]];
const long_days = 210;

/** What kind of home this is, from its number alone. */
function planOf(scheme, number) {
  const story = storyOf(number);
  const luck = chance(scheme.seed * 100_003 + number * 17 + 5);
  const long = ['drifting_unit', 'always_early', 'bad_lot', 'wrong_number'].includes(story);
  const days = long ? long_days : Math.round(luck.between(45, 75));
  const model = luck.happens(0.5) ? 0 : 1;
  const stimulator = scheme.stimulators[story === 'drifting_unit' ? 0 : model];  // a unit stays of its model
  const twice = luck.happens(0.15);
  return {
    number, story, luck, days, stimulator,
    zone: 'Europe/Oslo',
    name: `demo-${String(number + 2).padStart(4, '0')}`,
    area: story === 'no_area' ? undefined : story === 'cannot_be_served' ? far_area : areas[Math.floor(luck.between(0, areas.length))],
    changing_times: twice ? ['07:30', '21:30'] : [['20:30', '21:00', '21:30', '22:00'][Math.floor(luck.between(0, 4))]],
    spans: waysToPace[Math.floor(luck.between(0, waysToPace.length))],
    amplitudes: { left: Math.round(luck.between(32, 48)) / 10, right: Math.round(luck.between(32, 48)) / 10 },
    rate: Math.round(luck.between(10, 14)),
    silentDays: story === 'not_heard_of' ? 10 : 0,
  };
}

/** The lot that a home puts in at a time so many days ago. */
function lotOf(plan, days_ago) {
  const usual = lotAt(days_ago);
  if (plan.story === 'drifting_unit') return { lot: drifting_homes_lot, years: 7 };
  if (plan.story === 'bad_lot' && days_ago < 95) return { lot: bad_lot, years: 6 };
  if (plan.story === 'wrong_number' && days_ago < 60) return { lot: plan.number % 2 ? wrong_lot : right_lot, years: 7 };
  return usual;
}

/** The story as side.mjs lives it. */
function calendarOf(scheme, plan) {
  const at = (back, hours) => moment(scheme.day, -back, hours * 60, plan.zone);
  const ends = at(plan.silentDays, plan.silentDays ? 21 : 0);
  const daysAgo = (moment_) => (at(0, 0) - moment_) / day_ms;
  const nights = Math.round(plan.luck.between(22, 34));
  return {
    seed: scheme.seed * 1000 + plan.number, day: scheme.day, zone: plan.zone, stimulator: plan.stimulator, at,
    cellsInSeries: plan.stimulator.cells_in_series, lookHour: 21, begins: at(plan.days, 21.5), ends, daysAgo,
    off: { left: [], right: [] }, allDay: { left: [], right: [] },
    settingsAt: (side) => ({ rate_per_min: plan.rate, inspiratory_fraction: 0.28, amplitude: plan.amplitudes[side], spans: plan.spans }),
    looksAtChange: plan.story === 'drifting_unit', // else their sets tell too little of it
    warningIsHeard: () => true, faultAt: () => false,
    eagerness: () => (plan.story === 'quiet' ? 4.5 : 2.5),
    plannedChange: (side, moment_, hour, age, shown) => hour === 21 && (plan.story === 'always_early' ? age >= 3.5 : age > 1.5 && shown < nights),
    holdsAt: (moment_) => (lotOf(plan, daysAgo(moment_)).lot === bad_lot ? bad_lot_holds : 1),
    worksAt: (side, moment_) => (side === 'left' && hasDriftingUnit(plan.number, daysAgo(moment_)) ? 1 + drift(daysAgo(moment_)) : 1),
  };
}

/** Every change takes its cells from the lot of its time; what came is what was taken, and what is left. */
function cupboard(plan, story, changes) {
  const pieces = story.cellsInSeries;
  const lots = new Map();
  const lineOf = (moment_) => {
    const one = lotOf(plan, story.daysAgo(moment_));
    if (!lots.has(one.lot)) lots.set(one.lot, { lot: one.lot, expires: expiryOf(story.day, one), first: moment_, used: 0 });
    return lots.get(one.lot);
  };
  for (const change of changes) {
    const line = lineOf(change.at);
    line.used += pieces;
    change.cells = { profile: 'lr6-family', lot: line.lot, expires: line.expires, age: 'fresh' };
  }
  const last = lineOf(story.ends - hour_ms);
  const left = plan.story === 'shelf_empty' ? 0 : plan.story === 'cannot_be_served' ? 2 * pieces : pieces * Math.round(plan.luck.between(3, 22));
  return [...lots.values()].map((line) => ({ at: line.first - plan.luck.between(1, 3) * day_ms, item: 'cells', lot: line.lot, expires: line.expires, place: 'home',
    quantity: line.used + (line === last ? left : 0) })).filter((line) => line.quantity > 0);
}

/** What somebody counted, lot by lot: in most homes some days ago, in some long ago, in a few never. */
function countsOf(scheme, plan, story, came, changes) {
  const luck = chance(scheme.seed * 100_003 + plan.number * 29 + 11);
  const how = luck.uniform();
  if (how < 0.08) return [];
  const days_ago = Math.floor(how < 0.75 ? luck.between(1, 20) : luck.between(26, 42));
  const at = story.at(plan.silentDays + days_ago, 18 + luck.between(0, 1));
  const left = (line) => line.quantity - story.cellsInSeries * changes.filter((change) => change.at <= at && change.cells.lot === line.lot).length;
  return came.filter((line) => line.at <= at && left(line) > 0).map(({ item, lot, expires, place, ...line }) => ({ at, item, lot, expires, place, quantity: left({ lot, ...line }) }));
}

/** The home as a line for `cellarer load`: its document, and its entries in the order in which they were recorded. */
export function homeOf(scheme, number) {
  const plan = planOf(scheme, number);
  const story = calendarOf(scheme, plan);
  const opened = story.begins - 4 * day_ms;
  const lives = ['left', 'right'].map((side) => liveSide(story, side));
  const changes = lives.flatMap((life) => life.changes).sort((a, b) => a.at - b.at);
  const entries = [];
  const record = (kind, body, recorded_at) => {
    const at = body.at ?? body.from;
    entries.push({ kind, at, recorded_at: Math.min(recorded_at ?? at + 120_000, story.ends), who: 'Kitchen phone', body });
  };
  for (const { serial, days_ago } of unitsOf(number, plan.name))
    record('unit', { serial, stimulator: plan.stimulator.id, from: days_ago === undefined ? opened : story.at(days_ago, 11) });
  for (const side of ['left', 'right']) {
    const { spans, ...numbers } = story.settingsAt(side);
    record('settings', { from: opened, side, ...numbers, paced: spans.map(([from, to]) => ({ days: everyDay, from: clock(from), to: clock(to) })) });
  }
  const came = cupboard(plan, story, changes);
  for (const line of came) record('delivery', line);
  for (const count of countsOf(scheme, plan, story, came, changes)) record('stock_count', count);
  for (const { recorded_at, ...change } of changes) record('cell_change', { ...change, from_stock: true }, recorded_at);
  for (const { recorded_at, ...reading } of lives.flatMap((life) => life.readings)) record('reading', reading, recorded_at);
  if (plan.story === 'warned_last_night') record('reading', { at: story.at(0, 0) - 2 * hour_ms, side: 'right', warning: true, condition: 'pacing' });
  if (plan.story === 'stay_away') record('stay', { from: story.at(-6, 10), to: story.at(-20, 18) }, story.at(1, 19));
  entries.push(...deliveryOf(scheme, number, plan.area));
  if (plan.story === 'shelf_empty') record('message', { at: story.at(1, 19), about: 'running_short' });
  entries.sort((a, b) => a.recorded_at - b.recorded_at || (a.kind < b.kind ? 1 : -1));
  return {
    zone: plan.zone,
    household: { household: plan.name, zone: plan.zone, ...(plan.area && { area: plan.area }), changing_times: plan.changing_times,
      items: [{ item: 'cells', pack_size: 8, lead_days: 5 }] },
    recorded_at: opened,
    entries,
  };
}
