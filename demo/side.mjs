// SPDX-License-Identifier: MIT
// Two years of one side, hour by hour: cells run down, people look at the gauge, forget, change.
import { chance } from './chance.mjs';
import { charge_mAh, converted, load, percentAt, setVolts } from './cells.mjs';
import { day_ms, hour_ms, minuteOfDay, moment } from './calendar.mjs';

const within = (at, spans) => spans.some((span) => at >= span.from && at < span.to);

/** Whether a side paces at a minute of the day. Spans may pass midnight. */
function paces(minute, spans) {
  return spans.some(([from, to]) => (from < to ? minute >= from && minute < to : minute >= from || minute < to));
}

/** What a gauge shows: a percentage, or a step of so many. */
const shownAs = (gauge, percent) => (gauge.steps ? { step: Math.min(gauge.steps, Math.ceil((percent / 100) * gauge.steps)), of: gauge.steps } : { percent: Math.round(percent) });

/** A new set: how much it holds and how hard this side works it, against the average; a story may have lots and units of its own. */
function freshSet(luck, at, side, { holdsAt = () => 1, worksAt = () => 1 }) {
  return { since: at, used: 0, holds: holdsAt(at) * Math.exp(luck.normal(0.02)), works: worksAt(side, at) * Math.exp(luck.normal(0.035)), gaugeNoise: luck.normal(3) };
}

/** Everything that happened to one side, oldest first: { changes, readings }. `story` gives the calendar. */
export function liveSide(story, side) {
  const luck = chance(story.seed * 2 + (side === 'right' ? 1 : 0));
  const gaugeBias = luck.normal(2);
  const changes = [];
  const readings = [];
  let set = freshSet(luck, story.begins, side, story);
  let warned = null;
  let nextLook = story.begins;
  let today = 1;

  const change = (at, reason, late_h = 0.05) => {
    changes.push({ at, recorded_at: at + late_h * hour_ms, side, reason });
    set = freshSet(luck, at, side, story);
    warned = null;
    nextLook = at + luck.between(0.8, story.eagerness(at)) * day_ms;
  };
  const read = (at, what, late_h = 0.02) => readings.push({ at, recorded_at: at + late_h * hour_ms, side, ...what });
  change(story.begins, 'planned');

  for (let at = story.begins + hour_ms; at < story.ends; at += hour_ms) {
    const minute = minuteOfDay(at, story.zone);
    const hour = Math.floor(minute / 60);
    if (hour === 0) today = Math.exp(luck.normal(0.03));
    const settings = story.settingsAt(side, at);
    const draws = load(story.stimulator, side, settings);
    const pacing = !within(at, story.off[side]) && (paces(minute, settings.spans) || within(at, story.allDay[side]));
    const volts = setVolts(set.used, pacing ? draws.seen_mA : draws.standby_mA, story.stimulator.cells_in_series);
    const current = within(at, story.off[side]) ? story.stimulator[side].off_mA : pacing ? draws.mean_mA * today : draws.standby_mA;
    set.used += (converted(story.stimulator, current, volts) * set.works) / (charge_mAh * set.holds);
    set.gaugeNoise = 0.97 * set.gaugeNoise + luck.normal(3 * Math.sqrt(1 - 0.97 ** 2));
    const gauge = percentAt(volts, story.stimulator.gauge) + gaugeBias;
    const shown = Math.max(0, Math.min(100, gauge + set.gaugeNoise));
    const exact = at + Math.floor(luck.between(1, 24)) * 60_000;

    const planned = story.plannedChange(side, at, hour, (at - set.since) / day_ms, shown);
    if (volts <= story.stimulator.cutoff_V && pacing) {
      // The side stopped. Someone is woken by the unit's alarm, changes, and writes it down in the morning.
      read(exact, { stopped: true, condition: 'pacing' }, 6);
      change(exact + 6 * 60_000, 'ran_out', 6);
    } else if (pacing && gauge <= story.stimulator.warning_percent && warned === null && story.warningIsHeard(side, at)) {
      warned = exact;
      read(exact, { warning: true, condition: 'pacing' });
      change(exact + Math.floor(luck.between(4, 25)) * 60_000, 'warning');
    } else if (story.faultAt(side, at)) {
      change(exact, 'fault', 9);
    } else if (planned) {
      if (story.looksAtChange) read(exact, { ...shownAs(story.stimulator.gauge, shown), condition: 'pacing' });
      change(exact, 'planned', luck.happens(0.15) ? 10 : 0.05);
    } else if (hour === story.lookHour && at >= nextLook && pacing) {
      if (luck.happens(0.03)) read(exact, { set_V: Number((volts + luck.normal(0.01)).toFixed(2)), condition: 'pacing' });
      else read(exact, { ...shownAs(story.stimulator.gauge, shown), condition: 'pacing' });
      nextLook = at + luck.between(0.6, story.eagerness(at)) * day_ms;
    }
  }
  return { changes, readings, gaugeBias };
}

/** A day of the story as a moment: `days` from the story's day, at a wall-clock hour. */
export const storyMoment = (story, days, hours) => moment(story.day, days, hours * 60, story.zone);
