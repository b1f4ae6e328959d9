// SPDX-License-Identifier: MIT
// What the homes of the invented agency have in common: areas, lots in circulation, and which home has which story.
import { readFileSync, readdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const folder = join(dirname(fileURLToPath(import.meta.url)), '..', 'data', 'stimulators');
const stimulators = readdirSync(folder).filter((name) => name.endsWith('.json')).sort().map((name) => JSON.parse(readFileSync(join(folder, name), 'utf8')));

export const areas = ['Invented Vale', 'Invented Harbour', 'Invented Heath', 'Invented Mills', 'Invented Lakeside', 'Invented Uplands', 'Invented Bridge'];
/** So far out that a round goes there once in four weeks. */
export const far_area = 'Invented Outer Isles';

/** The lot whose cells hold a fifth less than others. */
export const bad_lot = 'INV-B7';
export const bad_lot_holds = 0.8;
/** One number, written in two ways. */
export const wrong_lot = 'INV-C0';
export const right_lot = 'INV-CO';

/** Which home has which story, by its number among the invented ones; the others live quietly. */
export const stories = {
  // One unit whose left channel draws more and more: it came to the first home in place of another, then to the second.
  drifting_unit: [17, 39],
  always_early: [41],
  stay_away: [73],
  never_came: [108],
  cannot_be_served: [151],
  no_area: [202],
  wrong_number: [88, 89, 90],
  // Used the bad lot, and has more of it in the cupboard or in a side now.
  bad_lot: [5, 12, 23, 36, 58, 64, 97, 120, 133, 149, 166, 180, 213, 240, 262, 281],
  warned_last_night: [190],
  not_heard_of: [60, 142, 233],
  shelf_empty: [31, 175],
};

export const drifting_serial = 'invented-unit-77';
/** Its homes have one lot all the time, so that nothing else changes with the unit. */
export const drifting_homes_lot = 'INV-E1';
const comes_days_ago = 150;
const goes_on_days_ago = 62;
const drift_days = 170;

/** Whether a home has the drifting unit at a time so many days before the day. */
export const hasDriftingUnit = (number, days_ago) => days_ago <= comes_days_ago && stories.drifting_unit[days_ago > goes_on_days_ago ? 0 : 1] === number;

/** By how much its left channel draws more than its model then: four fifths more on the day, nothing drift_days before. */
export const drift = (days_ago) => (Math.max(0, drift_days - days_ago) / drift_days) * 0.8;

/** The units that a home has had, one after the other: { serial, days_ago }, the first from its beginning on. */
export function unitsOf(number, name) {
  const own = { serial: `invented-${name}` };
  const drifting = (days_ago) => ({ serial: drifting_serial, days_ago });
  const [first, second] = stories.drifting_unit;
  if (number === first) return [own, drifting(comes_days_ago), { serial: `${own.serial}-2`, days_ago: goes_on_days_ago }];
  return number === second ? [own, drifting(goes_on_days_ago)] : [own];
}

const named = new Map(Object.entries(stories).flatMap(([story, homes]) => homes.map((home) => [home, story])));
export const storyOf = (number) => named.get(number) ?? 'quiet';

/** Lots of the agency, a new one every 45 days, by the days before the day on which it began to be given out. */
const lots = Array.from({ length: 9 }, (_, i) => ({ lot: `INV-A${9 - i}`, from_days: 45 * i, years: 6 + (i % 2) }));

/** One lot has one expiry, in every home and on the agency's shelf. */
export const expiryOf = (day, { lot, years }) => `${Number(day.slice(0, 4)) + years}-${lot.charCodeAt(lot.length - 1) % 2 ? '06' : '11'}`;

/** The lot that homes take from at a time so many days before the day. */
export const lotAt = (days_ago) => lots.find((one) => days_ago <= one.from_days + 45) ?? lots[lots.length - 1];

export const scheme = ({ seed, day }) => ({ seed, day, stimulators });
