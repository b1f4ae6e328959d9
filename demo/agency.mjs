#!/usr/bin/env node
// SPDX-License-Identifier: MIT
// Prints an invented agency, a household or an entry a line, as `cellarer load` reads it:
//   node demo/agency.mjs [--seed N] [--day 2026-03-01] [--homes 300]
// The same seed and day give the same bytes. Nobody lives in these homes; every area and serial number says so.
import { rfc3339 } from './calendar.mjs';
import { homeOf } from './agency_home.mjs';
import { agencyEntries } from './agency_rounds.mjs';
import { scheme, stories } from './agency_scheme.mjs';

const options = { seed: 1, day: new Date().toISOString().slice(0, 10), homes: 300 };
const given = process.argv.slice(2);
for (let i = 0; i < given.length; i += 2) {
  const option = given[i].replace(/^--/, '');
  if (!(option in options) || given[i + 1] === undefined) {
    console.error(`agency.mjs knows --seed N, --day 2026-03-01 and --homes N, not '${given[i]}'`);
    process.exit(2);
  }
  options[option] = option === 'day' ? given[i + 1] : Number(given[i + 1]);
}
if (!/^\d{4}-\d{2}-\d{2}$/.test(options.day) || Number.isNaN(Date.parse(options.day)) || !Number.isInteger(options.seed) || !Number.isInteger(options.homes)) {
  console.error('--day takes a date such as 2026-03-01, --seed and --homes whole numbers');
  process.exit(2);
}

const times = new Set(['at', 'recorded_at', 'from', 'to']);
const written = (zone, value) => JSON.stringify(value, (key, one) => (times.has(key) && typeof one === 'number' ? rfc3339(one, zone) : one));
const area_of_the_lost = homeOf(scheme(options), stories.never_came[0]).household.area;
for (const entry of agencyEntries(scheme(options), area_of_the_lost)) process.stdout.write(`${written('Europe/Oslo', entry)}\n`);
for (let number = 0; number < options.homes; number += 1) {
  const { zone, ...home } = homeOf(scheme(options), number);
  process.stdout.write(`${written(zone, home)}\n`);
}
