// SPDX-License-Identifier: MIT
// The invented agency's own entries: its calendar of rounds, what it has in store, and a round that went two days ago.
import { day_ms, moment } from './calendar.mjs';
import { areas, bad_lot, expiryOf, far_area, lotAt, stories, storyOf } from './agency_scheme.mjs';

const zone = 'Europe/Oslo';
const weekdays = ['mon', 'tue', 'wed', 'thu', 'fri', 'mon', 'thu'];
const pieces_per_pack = 24;
const date_of = (day, days) => new Date(Date.parse(`${day}T00:00:00Z`) + days * day_ms).toISOString().slice(0, 10);

/** The round of the home whose delivery never came: it went two days before the day. */
export function lostRound(scheme, area) {
  const date = date_of(scheme.day, -2);
  return { name: `${area} ${date}`, area, date, at: (hours) => moment(scheme.day, -2, hours * 60, zone) };
}

/** What such a home was sent, of which nobody answered; none where nothing was sent. */
export function deliveryOf(scheme, number, area) {
  const story = storyOf(number);
  if (story !== 'never_came') return [];
  const round = lostRound(scheme, area);
  const lot = lotAt(0);
  const body = { round: round.name, date: round.date, stop: `stop-${number}`,
    lines: [{ item: 'cells', packs: 1, pieces_per_pack, lots: [{ lot: lot.lot, packs: 1, expires: expiryOf(scheme.day, lot) }] }] };
  return [{ kind: 'planned_delivery', at: round.at(-20), recorded_at: round.at(-20), who: 'Planner’s desk', body }];
}

/** Entries of the agency, in the order in which they were recorded. None names a household. */
export function agencyEntries(scheme, areaOfLost) {
  const long_ago = moment(scheme.day, -30, 9 * 60, zone);
  const entry = (kind, subject, recorded_at, body) => ({ agency_entry: { kind, ...(subject && { subject }), recorded_at, body } });
  const rules = areas.map((area, i) => ({ name: area, area, weekdays: [weekdays[i]], stops: 24, lead_days: 2 }));
  rules.push({ name: far_area, area: far_area, dates: [date_of(scheme.day, 26), date_of(scheme.day, 54)], stops: 6, lead_days: 3 });
  const now = lotAt(0);
  const stored = (one, packs) => entry('agency_stock', 'cells', long_ago, { what: 'counted', item: 'cells', lot: one.lot, packs, expires: expiryOf(scheme.day, one) });
  const round = lostRound(scheme, areaOfLost);
  const step = (state, hours) => entry('round', round.name, round.at(hours), { area: round.area, date: round.date, stops_at_most: 24, lead_days: 2, state,
    stops: stories.never_came.length, totals: [{ item: 'cells', lot: now.lot, packs: stories.never_came.length, expires: expiryOf(scheme.day, now) }] });
  return [
    entry('round_calendar', '', long_ago, { horizon_days: 56, zone, rules, items: [{ item: 'cells', pieces_per_pack, pieces_per_set: 2 }] }),
    stored(now, 400), stored({ lot: bad_lot, years: 6 }, 30), stored({ lot: 'INV-D1', years: 7 }, 260),
    step('planned', -20), step('loaded', 6), step('left', 8),
  ];
}
