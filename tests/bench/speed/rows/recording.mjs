// SPDX-License-Identifier: MIT
// A write answered with its new forecast: readings that each side's own forecast expects, with the time of the write, to
// homes that get a few each. First as people send them, each on his own, as many as a million homes do and more than one
// core can answer, then by clients that never pause. And as a home's other phone does, which hears of a reading and asks for
// the forecast. The time at the server is that of its log: from a request read whole
// to its answer handed over.
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expectedReadings } from '../expected_reading.mjs';
import { median, quantile } from '../numbers.mjs';
import { cellarer, freshFolder, processorSeconds, run, timesAtServer, untilIdle, wrk } from '../programs.mjs';
import { loadHomes, serve } from '../service.mjs';

const connections = 32;
const calm_writes_a_second = 25; // a million homes that record twice a day send 23
const writes_a_second = 200;
const parts = 5; // of the homes, one a series
const sides = ['left', 'right'];

/** [{ household, side, reading }], of the sides whose forecast expects something. */
async function readingsOf(service, households) {
  const chart = async (household, side) => {
    const answer = await fetch(`${service.url}/api/v1/households/${household}/chart?side=${side}`, { headers: { Cookie: service.cookie } });
    const text = await answer.text();
    if (answer.status !== 200) throw new Error(`no chart: ${text}`);
    return JSON.parse(text);
  };
  const found = new Map();
  const waiting = [...households];
  const ask = async () => {
    for (let household = waiting.shift(); household; household = waiting.shift()) {
      const charts = [];
      for (const side of sides) charts.push(await chart(household, side));
      found.set(household, expectedReadings(charts, Date.now()).map((reading, i) => ({ household, side: sides[i], reading })));
    }
  };
  await Promise.all(Array.from({ length: 8 }, ask));
  return households.flatMap((household) => found.get(household)).filter(({ reading }) => reading);
}

const line = ({ household, side, reading }) => `${household} "side": "${side}", ${JSON.stringify(reading).slice(1, -1)}\n`;

export async function rows({ rounds, seconds, homes: count, patience_s }) {
  const folder = freshFolder();
  const data = join(folder, 'data');
  mkdirSync(data);
  const homes = loadHomes(data, parts * count, parts * count);
  run(cellarer, homes.loads[0]);
  const asked = await serve(data);
  const readings = await readingsOf(asked, homes.references);
  await asked.stop();
  const each = homes.references.length / parts;
  const of = (part) => {
    const those = new Set(homes.references.slice(part * each, (part + 1) * each));
    return readings.filter(({ household }) => those.has(household));
  };
  const bySide = (all) => sides.flatMap((side) => all.filter((one) => one.side === side)); // a home comes again after all others
  const service = await serve(data);
  await untilIdle(service.pid, patience_s);

  let key = 0;
  const series = (name, list, { pause_ms, looks, time, asks = 'POST \\S+/readings', status = 201 }) => {
    const file = join(folder, name);
    writeFileSync(file, list.map(line).join(''));
    const kept = { p50: [], p99: [], p50_client: [], p99_client: [], a_second: [], core_ms: [] };
    let done = 0;
    return { kept, more: async () => {
      const before = processorSeconds(service.pid);
      const { times_ms, did: measured } = await timesAtServer(service, { asks, status }, () => wrk({
        connections, seconds: time, url: service.url, script: 'expected.lua',
        scriptArguments: [`${name}-${key += 1}`, service.cookie, file, String(pause_ms), looks, String(done)],
      }));
      done += times_ms.length; // a reading is sent for each that is timed
      kept.p50.push(quantile(times_ms, 0.5));
      kept.p99.push(quantile(times_ms, 0.99));
      kept.p50_client.push(measured.p50_ms);
      kept.p99_client.push(measured.p99_ms);
      kept.a_second.push(times_ms.length / measured.seconds);
      kept.core_ms.push((1000 * (processorSeconds(service.pid) - before)) / times_ms.length);
    } };
  };
  const pause_between = (a_second) => (1000 * connections) / a_second;
  const pause_ms = pause_between(writes_a_second);
  const calm = series('calm', of(3), { pause_ms: pause_between(calm_writes_a_second) / 2, looks: 'before', time: 3 * seconds });
  const opened = series('opened', of(0), { pause_ms: pause_ms / 2, looks: 'before', time: 3 * seconds });
  const fetched = series('fetched', bySide(of(4)), { pause_ms: pause_between(calm_writes_a_second) / 2, looks: 'after', time: 3 * seconds, asks: 'GET \\S+/forecast', status: 200 });
  const untouched = series('untouched', bySide(of(1)), { pause_ms, looks: 'no', time: 3 * seconds });
  const hurried = series('hurried', bySide(of(2)), { pause_ms: 0, looks: 'no', time: seconds });
  for (let round = 0; round < rounds; round += 1) {
    for (const one of [calm, fetched, opened, untouched]) await one.more();
  }
  for (let round = 0; round < rounds; round += 1) await hurried.more();
  await service.stop();

  const within = (half, most, where) => {
    const [p50, p99] = [median(half), median(most)];
    return [
      { what: `${where}: half of 100 within`, ours: p50, unit: 'ms', target: 'under 1 ms', met: p50 < 1 },
      { what: 'the same, 99 of 100 within', ours: p99, unit: 'ms', target: 'under 5 ms', met: p99 < 5 },
    ];
  };
  const rate = ({ kept }) => `${Math.round(median(kept.a_second))} a second`;
  const { kept } = hurried;
  return [
    ...within(fetched.kept.p50, fetched.kept.p99, `a forecast asked for after something was recorded, ${connections} clients, ${rate(fetched)}, at the server`),
    ...within(calm.kept.p50, calm.kept.p99, `a write answered with its new forecast, ${connections} clients, ${rate(calm)}, each home's page opened just before, at the server`),
    ...within(opened.kept.p50, opened.kept.p99, `the same, ${rate(opened)}, at the server`),
    ...within(untouched.kept.p50, untouched.kept.p99, `the same, ${rate(untouched)}, to homes that nobody opened lately, at the server`),
    ...within(kept.p50_client, kept.p99_client, `the same, ${connections} clients that never pause, ${rate(hurried)}, their waiting for each other in it, at the client`),
    { what: 'the same, processor time of the service for each, whatever it does beside them included', ours: median(kept.core_ms), unit: 'ms of a core' },
  ];
}
