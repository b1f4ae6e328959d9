// SPDX-License-Identifier: MIT
// The invented agency: what it must hold is what the issue of the planner's desk asks of it; the rest is bookkeeping.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import test from 'node:test';
import { fileURLToPath } from 'node:url';

import { bad_lot, drifting_serial, far_area, stories } from '../../demo/agency_scheme.mjs';

const script = join(fileURLToPath(import.meta.url), '..', '..', '..', 'demo', 'agency.mjs');
const print = (...options) => execFileSync('node', [script, '--day', '2026-03-29', ...options], { encoding: 'utf8', maxBuffer: 1 << 28 });
const day_ms = 86_400_000;
const end = Date.parse('2026-03-29T00:00:00+01:00');
const lines = print().trim().split('\n').map((line) => JSON.parse(line));
const homes = lines.filter((line) => line.household);
const of = (home, kind) => home.entries.filter((entry) => entry.kind === kind).map((entry) => entry.body);
const sets = (home, side) => of(home, 'cell_change').filter((change) => change.side === side);
const days = (home, side) => sets(home, side).slice(1).map((change, i) => (Date.parse(change.at) - Date.parse(sets(home, side)[i].at)) / day_ms);
const mean = (numbers) => numbers.reduce((sum, one) => sum + one, 0) / numbers.length;

test('the same seed and day print the same bytes, another seed others', () => {
  assert.equal(print('--homes', '4'), print('--homes', '4'));
  assert.notEqual(print('--homes', '4'), print('--homes', '4', '--seed', '2'));
});

test('there are 300 homes, each labelled as invented in its area, its serial number and its lots', () => {
  assert.equal(homes.length, 300);
  assert.equal(new Set(homes.map((home) => home.household.household)).size, 300);
  for (const home of homes) {
    assert.match(home.household.household, /^demo-\d{4}$/);
    assert.match(home.household.area ?? 'Invented', /^Invented/);
    assert.ok(of(home, 'unit').every((unit) => unit.serial.startsWith('invented-')));
    assert.ok(of(home, 'cell_change').every((change) => change.cells.lot.startsWith('INV-') && change.cells.profile === 'lr6-family'));
  }
});

test('entries stand in the order in which they were recorded, all before the day', () => {
  for (const home of homes) {
    const recorded = home.entries.map((entry) => Date.parse(entry.recorded_at));
    assert.ok(recorded.every((at, i) => at <= end && (i === 0 || at >= recorded[i - 1])), home.household.household);
  }
});

test('no home puts in more cells of a lot than it received', () => {
  for (const home of homes) {
    const left = new Map();
    for (const delivery of of(home, 'delivery')) left.set(delivery.lot, (left.get(delivery.lot) ?? 0) + delivery.quantity);
    for (const change of of(home, 'cell_change')) left.set(change.cells.lot, (left.get(change.cells.lot) ?? 0) - 2);
    assert.ok([...left.values()].every((pieces) => pieces >= 0), home.household.household);
  }
});

test('the stories are there to be found', () => {
  for (const number of stories.bad_lot) {
    assert.ok(of(homes[number], 'cell_change').some((change) => change.cells.lot === bad_lot));
  }
  const everywhere = homes.filter((home) => of(home, 'cell_change').some((change) => change.cells.lot === bad_lot));
  assert.equal(everywhere.length, stories.bad_lot.length);
  // Sets of the bad lot hold a fifth less: changed by what the gauge shows, they come out sooner.
  const ratio = mean(stories.bad_lot.flatMap((number) => ['left', 'right'].map((side) => {
    const all = sets(homes[number], side).slice(0, -1).map((change, i) => [change.cells.lot, days(homes[number], side)[i]]);
    const life = (bad) => mean(all.filter(([lot]) => (lot === bad_lot) === bad).map(([, long]) => long));
    return life(true) / life(false);
  })).filter(Number.isFinite));
  assert.ok(ratio > 0.72 && ratio < 0.9, `${ratio}`);

  // The drifting unit takes its cells faster and faster, first in one home and then in another.
  const [first, second] = stories.drifting_unit.map((number) => homes[number]);
  const [, came, went] = of(first, 'unit');
  assert.deepEqual([came.serial, of(second, 'unit')[1]], [drifting_serial, { ...came, from: went.from }]);
  const change = (home, from, to) => {
    const life = (drifting) => mean(days(home, 'left').filter((_, i) => (sets(home, 'left')[i].at > from && sets(home, 'left')[i].at < to) === drifting));
    return life(true) / life(false);
  };
  assert.ok(change(first, came.from, went.from) < 0.9, `${change(first, came.from, went.from)}`);
  assert.ok(change(second, went.from, 'ever') < 0.75, `${change(second, went.from, 'ever')}`);
  const early = days(homes[stories.always_early[0]], 'left');
  assert.ok(Math.max(...early) - Math.min(...early) < 1 && mean(early) < 4.5);
  const [stay] = of(homes[stories.stay_away[0]], 'stay');
  assert.ok(Date.parse(stay.from) > end && Date.parse(stay.to) > Date.parse(stay.from) + 7 * day_ms);
  const unserved = homes[stories.cannot_be_served[0]];
  assert.equal(unserved.household.area, far_area);
  assert.equal(homes.filter((home) => home.household.area === far_area).length, 1);
  assert.equal(homes[stories.no_area[0]].household.area, undefined);
});

test('most homes were counted, some of them long ago, a few never; a count finds what had come and was not used', () => {
  const newest = (home) => Math.max(...of(home, 'stock_count').map((count) => Date.parse(count.at)));
  const days_ago = homes.filter((home) => of(home, 'stock_count').length).map((home) => (end - newest(home)) / day_ms);
  assert.ok(days_ago.length > 0.8 * homes.length && days_ago.length < homes.length);
  const old = days_ago.filter((days) => days > 24).length;
  assert.ok(old > 30 && old < 120, `${old}`);
  for (const home of homes) {
    for (const count of of(home, 'stock_count')) {
      const before = (entry) => Date.parse(entry.at) <= Date.parse(count.at);
      const came = of(home, 'delivery').filter((one) => before(one) && one.lot === count.lot).reduce((sum, one) => sum + one.quantity, 0);
      const used = 2 * of(home, 'cell_change').filter((one) => before(one) && one.cells.lot === count.lot).length;
      assert.equal(count.quantity, came - used, home.household.household);
    }
  }
});
