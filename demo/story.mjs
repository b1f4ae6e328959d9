// SPDX-License-Identifier: MIT
// The story of the invented household: what its people do and when, relative to one day. Nobody lives here.
import { readFileSync, readdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

import { day_ms, hour_ms, moment } from './calendar.mjs';
import { liveSide } from './side.mjs';
import { keepStock } from './stock.mjs';

const data = join(dirname(fileURLToPath(import.meta.url)), '..', 'data', 'stimulators');
const profiles = () => readdirSync(data).filter((name) => name.endsWith('.json')).sort().map((name) => JSON.parse(readFileSync(join(data, name), 'utf8')));

export const name = 'demo-0001';
const days = 730;
const evening = 21; // the hour in which people look and change: the changing time is 21:30
const spans = [[20 * 60, 8 * 60], [13 * 60, 16 * 60]]; // the night, and a rest after the meal
const everyDay = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'];
const clock = (minutes) => `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;

/** What the clinician set: the left side a little stronger than the right, and stronger still for a year. */
function settingsOf(side, stronger) {
  const amplitude = side === 'left' ? (stronger ? 4.6 : 4.0) : 3.8;
  return { rate_per_min: 12, inspiratory_fraction: 0.28, amplitude, spans };
}

/** The calendar of the story, from its seed and day. */
function calendar(seed, day, zone) {
  const at = (back, hours) => moment(day, -back, hours * 60, zone);
  const strongerFrom = at(365, 11);
  const days_ago = (moment_) => (at(0, 0) - moment_) / day_ms;
  const span = (back, long, hours = 9) => ({ from: at(back, hours), to: at(back - long, hours) });
  const stimulator = profiles().find((profile) => profile.gauge && !profile.gauge.steps);
  const last = { left: [2, 11, 20, 29], right: [6, 19, 32] }; // the newest changes, in days before the day
  return {
    seed, day, zone, stimulator, at, strongerFrom,
    cellProfile: 'lr6-family', cellsInSeries: stimulator.cells_in_series, reorderAt: 20, packs: 40, lookHour: evening,
    begins: at(days, 21.5), ends: at(0, 0),
    off: { left: [], right: [span(431, 2)] },
    allDay: { left: [span(150, 4)], right: [span(150, 4)] },
    spareIn: span(300, 14),
    settingsAt: (side, moment_) => settingsOf(side, moment_ >= strongerFrom),
    warningIsHeard: (side, moment_) => !(side === 'right' && days_ago(moment_) > 400 && days_ago(moment_) < 412),
    faultAt: (side, moment_) => side === 'left' && moment_ > at(560, 15) && moment_ <= at(560, 16),
    eagerness: (moment_) => (days_ago(moment_) > 500 || days_ago(moment_) < 36 ? 1.3 : days_ago(moment_) > 200 ? 3.2 : 2.2),
    // First an early changer; then one who waits for the unit's warning; lately by plan, near the end of a set.
    plannedChange: (side, moment_, hour, age, shown) => {
      const back = days_ago(moment_);
      if (hour !== evening) return false;
      if (back < 36) return age > 1 && last[side].some((one) => Math.abs(back - one + 21.5 / 24) < 0.5);
      if (back > 520) return age >= 7.5 && shown < 62;
      if (back > 330) return false;
      return shown < 26;
    },
  };
}

/** The whole household as an export (DEVELOPERS.md, files), with the events of its cupboard. */
export function tell({ seed = 1, day, zone = 'Europe/Oslo' }) {
  const story = calendar(seed, day, zone);
  const lives = ['left', 'right'].map((side) => liveSide(story, side));
  const changes = lives.flatMap((life) => life.changes).sort((a, b) => a.at - b.at);
  const readings = lives.flatMap((life) => life.readings).sort((a, b) => a.at - b.at);
  const cupboard = keepStock(story, changes);
  const setting = (from, side, stronger) => {
    const { spans: paced, ...numbers } = settingsOf(side, stronger);
    return { from, side, ...numbers, paced: paced.map(([start, end]) => ({ days: everyDay, from: clock(start), to: clock(end) })) };
  };
  const unit = (serial, from, spare = false) => ({ serial, stimulator: story.stimulator.id, from, spare });
  const opened = story.begins - hour_ms;
  return {
    story,
    household: {
      household: name, area: 'Invented Vale', zone, changing_times: ['21:30'],
      items: [{ item: 'cells', pack_size: 8, lead_days: 5 }, { item: 'antennas', pack_size: 2, lead_days: 14, every_days: 120 },
        { item: 'dressings', pack_size: 20, lead_days: 7, every_days: 2 }, { item: 'tape', pack_size: 1, lead_days: 7, per_cell_change: 0.1 }],
      units: [unit('invented-unit-1', opened), unit('invented-unit-2', opened, true), unit('invented-unit-2', story.spareIn.from),
        unit('invented-unit-1', story.spareIn.to)],
      settings: [setting(opened, 'left', false), setting(opened, 'right', false), setting(story.strongerFrom, 'left', true)],
      paced: ['left', 'right'].flatMap((side) => story.allDay[side].map((span) => ({ side, ...span, hours_per_day: 24 }))),
      switched_off: ['left', 'right'].flatMap((side) => story.off[side].map((span) => ({ side, ...span }))),
      cell_changes: changes,
      readings,
      stays: [{ from: story.at(205, 10), to: story.at(198, 18) }],
      deliveries: cupboard.deliveries,
      stock_counts: otherItems(story),
      stock: [...cupboard.lots, ...otherItems(story).map(({ at, ...line }) => line)],
    },
  };
}

/** Other things that are counted. */
function otherItems(story) {
  return [['antennas', 3], ['dressings', 40], ['tape', 4]].map(([item, quantity]) => ({ at: story.at(6, 18), item, quantity, place: 'hall cupboard' }));
}
