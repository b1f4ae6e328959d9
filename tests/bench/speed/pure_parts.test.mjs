// SPDX-License-Identifier: MIT
// What the speed bench makes of its measurements, tried without measuring anything.
import assert from 'node:assert/strict';
import test from 'node:test';

import { expectedReadings } from './expected_reading.mjs';
import { growthPicture, tickStep } from './growth_picture.mjs';
import { median, quantile } from './numbers.mjs';
import { table } from './table.mjs';
import { byTrend } from './trend.mjs';

// By definition: half of the others are at most the median, and half are at least that.
test('a median is the value in the middle, whatever their order, and leaves them as they were', () => {
  const values = [9, 1, 100, 3, 2];
  assert.equal(median(values), 3);
  assert.deepEqual(values, [9, 1, 100, 3, 2]);
  assert.equal(median([4]), 4);
});

// By definition (nearest rank): of 1 to 100 so many are at most n as n says.
test('99 of 100 are within the 99th of a hundred', () => {
  const values = Array.from({ length: 100 }, (_, i) => 100 - i);
  assert.equal(quantile(values, 0.99), 99);
  assert.equal(quantile(values, 0.5), 50);
  assert.equal(quantile([7], 0.99), 7);
});

test('a row of the table says what was measured, against what, its verdict and of how many runs it is the median', () => {
  const rows = [
    { what: 'a', ours: 12_345, unit: '/s', peer: 0.5, against: 'b', ratio: 0.25, target: 'at least 0.5', met: false, runs: 7 },
    { what: 'c', ours: 0.0125, unit: 'ms', runs: 1 },
    { what: 'd', apart: 0.0961, target: 'within 0.1 %', met: true, runs: 3 },
  ];
  assert.deepEqual(table(rows).split('\n').slice(2), [
    '| a | 12 345/s | b | 0.50/s | 0.25 | at least 0.5 | short | 7 |',
    '| c | 0.013 ms |  |  |  |  |  | 1 |',
    '| d |  |  |  | 0.096 % apart | within 0.1 % | met | 3 |',
  ]);
});

// Identity: a straight line over the logarithm is met wherever it is asked.
test('the trend goes on as it went, and never below what the most that were tried took', () => {
  const rises = [[1e3, 1], [1e4, 1.5], [1e5, 2], [1e6, 2.5]];
  assert.ok(Math.abs(byTrend(rises, 1e7) - 3) < 1e-12);
  assert.equal(byTrend([[1e3, 2], [1e4, 1]], 1e7), 1);
  assert.equal(byTrend([[1e3, 2]], 1e7), 2);
});

test('steps between ticks are 1, 2 or 5 times a power of ten, five at most', () => {
  assert.deepEqual([2.65, 115, 24.5, 5, 0.4].map(tickStep), [1, 50, 5, 1, 0.1]);
});

const growth = (...sizes) => ({ rows: sizes.map(([households, ours]) => ({ households, curve: 'disk', ours })) });
const dots = (svg) => [...svg.matchAll(/<circle class="\w+" cx="([\d.]+)" cy="([\d.]+)"/g)].map(([, x, y]) => [Number(x), Number(y)]);

// By hand: a panel is 288 wide and 260 high; equal ratios are equal steps, and the highest tick over 20 is 20.
test('a curve has a dot where each size was measured, on a logarithmic axis and from nought upwards', () => {
  const svg = growthPicture([growth([1000, 10], [10_000, 20], [100_000, 15])]);
  assert.deepEqual(dots(svg), [[0, 130], [144, 0], [288, 65]]);
  assert.match(svg, /<polyline class="ours" points="0\.0,130\.0 144\.0,0\.0 288\.0,65\.0"\/>/);
  assert.match(svg, />100 000</);
});

test('several runs make one curve, of which the first counts where both had a size', () => {
  const [alone, both] = [growth([1000, 10], [10_000, 20]), growth([10_000, 5], [1_000_000, 20])];
  assert.deepEqual(dots(growthPicture([alone, both])), [[0, 130], [96, 0], [288, 0]]);
});

test('one size is no curve', () => {
  assert.throws(() => growthPicture([growth([1000, 10])]), /two sizes/);
});

// By hand: a quarter of the way from 80 to 60 is 75, which lies in the fourth of five steps and the third of four.
test('the reading that is expected lies on the chart, in percent or in the steps that were read before', () => {
  const at = (hour) => `2026-03-01T0${hour}:00:00+01:00`;
  const points = [{ at: at(0), p50: 80 }, { at: at(4), p50: 60 }];
  const now = Date.parse(at(1));
  const charts = (text, readings = [{ text }]) => [{ points, readings }, { points: [], readings: [] }];
  assert.deepEqual(expectedReadings(charts('78 %'), now), [{ percent: 75 }, undefined]);
  assert.deepEqual(expectedReadings(charts('step 4 of 5'), now), [{ step: 4, of: 5 }, undefined]);
  assert.deepEqual(expectedReadings(charts('2.71 V'), now), [undefined, undefined]);
  assert.deepEqual(expectedReadings(charts('78 %'), Date.parse(at(5))), [undefined, undefined]);
  const other = [{ points, readings: [] }, { points: [], readings: [{ text: 'step 1 of 4' }] }]; // both sides have one gauge
  assert.deepEqual(expectedReadings(other, now), [{ step: 3, of: 4 }, undefined]);
});
