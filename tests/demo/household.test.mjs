// SPDX-License-Identifier: MIT
// The invented household: what it must hold is what DEVELOPERS.md asks of the demo; that its story hangs together is bookkeeping.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import test from 'node:test';
import { fileURLToPath } from 'node:url';

import { moment, offsetMinutes, rfc3339 } from '../../demo/calendar.mjs';

const script = join(fileURLToPath(import.meta.url), '..', '..', '..', 'demo', 'household.mjs');
const print = (...options) => execFileSync('node', [script, ...options], { encoding: 'utf8', maxBuffer: 1 << 26 });
const told = (...options) => JSON.parse(print('--day', '2026-03-29', ...options));
const day_ms = 86_400_000;
const sides = ['left', 'right'];

test('the same seed and day tell the same story to the last byte, another seed another one', () => {
  assert.equal(print('--day', '2026-03-29', '--seed', '5'), print('--day', '2026-03-29', '--seed', '5'));
  assert.notEqual(print('--day', '2026-03-29', '--seed', '5'), print('--day', '2026-03-29', '--seed', '6'));
});

test('the household is labelled as invented and its cells bear no brand', () => {
  const household = told();
  assert.equal(household.area, 'Invented Vale');
  assert.equal(household.household, 'demo-0001');
  assert.ok(household.cell_changes.every((change) => change.cells.profile === 'lr6-family' && /^INV-\d+$/.test(change.cells.lot)));
  assert.ok(household.units.every((unit) => unit.serial.startsWith('invented-')));
});

test('two years of changes and readings on both sides end before the day', () => {
  const household = told();
  const end = moment('2026-03-29', 0, 0, household.zone);
  for (const side of sides) {
    const changes = household.cell_changes.filter((change) => change.side === side).map((change) => Date.parse(change.at));
    const readings = household.readings.filter((reading) => reading.side === side).map((reading) => Date.parse(reading.at));
    for (const times of [changes, readings]) {
      assert.ok(times.length > 50 && end - times[0] > 720 * day_ms && times.every((at, i) => at < end && (i === 0 || at > times[i - 1])));
    }
  }
});

test('one settings change, one spare unit that was in service for two weeks, and three lots of cells', () => {
  const household = told();
  assert.deepEqual(household.settings.map((one) => [one.side, one.amplitude]), [['left', 4.0], ['right', 3.8], ['left', 4.6]]);
  assert.equal(household.units.filter((unit) => unit.spare).length, 1);
  const service = household.units.filter((unit) => !unit.spare).map((unit) => Date.parse(unit.from));
  assert.equal(Math.round((service[2] - service[1]) / day_ms), 14);
  assert.equal(household.stock.filter((line) => line.item === 'cells').length, 3);
});

test('no cells go into a side from a lot before it came or beyond what came', () => {
  for (const seed of ['1', '2', '3']) {
    const household = told('--seed', seed);
    const left = new Map();
    const events = [...household.deliveries.map((one) => [one.at, one.lot, one.quantity]), ...household.cell_changes.map((one) => [one.at, one.cells.lot, -2])];
    events.sort((a, b) => Date.parse(a[0]) - Date.parse(b[0]));
    for (const [at, lot, quantity] of events) {
      left.set(lot, (left.get(lot) ?? 0) + quantity);
      assert.ok(left.get(lot) >= 0, `lot ${lot} at ${at}`);
    }
    for (const line of household.stock.filter((one) => one.item === 'cells')) assert.equal(line.quantity, left.get(line.lot));
  }
});

test('sets run down as cells do: the gauge falls, and a set that ran out had lasted longer than most', () => {
  const household = told();
  const lives = [];
  for (const side of sides) {
    const changes = household.cell_changes.filter((change) => change.side === side);
    for (let i = 1; i < changes.length; i++) {
      const [from, to] = [Date.parse(changes[i - 1].at), Date.parse(changes[i].at)];
      const seen = household.readings.filter((one) => one.side === side && one.percent !== undefined && Date.parse(one.at) > from && Date.parse(one.at) < to);
      if (seen.length > 1) assert.ok(seen[0].percent > seen.at(-1).percent - 6, `${side} ${changes[i].at}`);
      lives.push({ reason: changes[i].reason, days: (to - from) / day_ms });
    }
  }
  const all = lives.map((life) => life.days).sort((a, b) => a - b);
  const ranOut = lives.filter((life) => life.reason === 'ran_out');
  assert.ok(ranOut.length >= 1 && ranOut.every((life) => life.days > all[Math.floor(all.length * 0.75)]));
  assert.ok(lives.filter((life) => life.reason === 'warning').length >= 5 && lives.some((life) => life.reason === 'fault'));
});

test('people look and change by the clock on the wall across daylight saving', () => {
  const household = told();
  const wall = household.cell_changes.filter((change) => change.reason === 'planned').map((change) => change.at.slice(11, 13));
  assert.deepEqual([...new Set(wall)], ['21']);
  assert.equal(offsetMinutes(Date.parse('2026-03-29T00:59:59Z'), 'Europe/Oslo'), 60);
  assert.equal(offsetMinutes(Date.parse('2026-03-29T01:00:00Z'), 'Europe/Oslo'), 120); // the IANA zone's rule: last Sunday of March, 01:00 UTC
  assert.equal(rfc3339(moment('2026-03-29', 0, 21.5 * 60, 'Europe/Oslo'), 'Europe/Oslo'), '2026-03-29T21:30:00+02:00');
});
