// SPDX-License-Identifier: MIT
// Runs the rows and prints them; called by the script beside it, which builds what they need.
import { readFileSync } from 'node:fs';
import { cpus, totalmem } from 'node:os';
import * as forecast from './rows/forecast.mjs';
import * as growth from './rows/growth.mjs';
import * as recording from './rows/recording.mjs';
import * as serving from './rows/serving.mjs';
import * as writes from './rows/writes.mjs';
import { table } from './table.mjs';

const groups = { forecast, serving, writes, recording, growth };
const options = { json: false, only: Object.keys(groups), rounds: 7, seconds: 2, homes: 1000, patience_s: 180, sizes: [1000, 10_000] };
const given = process.argv.slice(2);
for (let i = 0; i < given.length; i += 1) {
  if (given[i] === '--json') options.json = true;
  else if (given[i] === '--quick') Object.assign(options, { rounds: 1, seconds: 1, homes: 50, patience_s: 3, sizes: [100, 300] });
  else if (given[i] === '--rounds') options.rounds = Number(given[i += 1]);
  else if (given[i] === '--sizes') options.sizes = given[i += 1].split(',').map(Number);
  else if (given[i] === '--only' && groups[given[i + 1]]) options.only = [given[i += 1]];
  else {
    console.error(`'${given[i]}' is not known here: --json, --quick, --rounds 7, --sizes 1000,10000, --only ${Object.keys(groups).join('|')}`);
    process.exit(2);
  }
}

const rows = [];
for (const name of options.only) {
  process.stderr.write(`== ${name}\n`);
  rows.push(...(await groups[name].rows(options)).map((row) => ({ group: name, runs: options.rounds, ...row })));
}
const load = Number(readFileSync('/proc/loadavg', 'utf8').split(' ')[1]);
const machine = `${cpus().length} cores (${cpus()[0].model.trim()}), ${Math.round(totalmem() / 2 ** 30)} GB; load average ${load}; each figure is the median of as many alternating runs as its row says`;
if (options.json) console.log(JSON.stringify({ machine, rows }, null, 2));
else console.log(`${table(rows)}\n\n${machine}`);
process.exit(0);
