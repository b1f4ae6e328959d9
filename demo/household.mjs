#!/usr/bin/env node
// SPDX-License-Identifier: MIT
// Prints the invented household as an export: node demo/household.mjs [--seed N] [--day 2026-03-01] [--zone Europe/Oslo]
// The same seed, day and zone give the same bytes. --name prints only its reference.
import { rfc3339 } from './calendar.mjs';
import { name, tell } from './story.mjs';

const options = { seed: 1, day: new Date().toISOString().slice(0, 10), zone: 'Europe/Oslo' };
const given = process.argv.slice(2);
if (given.includes('--name')) {
  console.log(name);
  process.exit(0);
}
for (let i = 0; i < given.length; i += 2) {
  const option = given[i].replace(/^--/, '');
  if (!(option in options) || given[i + 1] === undefined) {
    console.error(`household.mjs knows --seed N, --day 2026-03-01, --zone Europe/Oslo and --name, not '${given[i]}'`);
    process.exit(2);
  }
  options[option] = option === 'seed' ? Number(given[i + 1]) : given[i + 1];
}
if (!/^\d{4}-\d{2}-\d{2}$/.test(options.day) || Number.isNaN(Date.parse(options.day)) || !Number.isInteger(options.seed)) {
  console.error('--day takes a date such as 2026-03-01, --seed a whole number');
  process.exit(2);
}

const times = new Set(['at', 'recorded_at', 'from', 'to']);
const { household } = tell(options);
const text = JSON.stringify(household, (key, value) => (times.has(key) && typeof value === 'number' ? rfc3339(value, options.zone) : value), 1);
process.stdout.write(`${text}\n`);
