// SPDX-License-Identifier: MIT
// Durable writes through the API by 64 clients, beside SQLite alone; and reads while a thousand writes a second go on.
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { median } from '../numbers.mjs';
import { built, cellarer, freshFolder, run, wrk } from '../programs.mjs';
import { loadHomes, serve } from '../service.mjs';

export async function rows({ rounds, seconds }) {
  const folder = freshFolder();
  const data = join(folder, 'data');
  mkdirSync(data);
  const homes = loadHomes(data, 96);
  run(cellarer, homes.loads[0]);
  const service = await serve(data, { limits: { address_connections: 256 } });
  const written = homes.references.slice(0, 64), read = homes.references.slice(64);
  const when = `${new Date(Date.now() - 3600_000).toISOString().slice(0, 19)}Z`;
  let key = 0;
  const write = (time, pause_ms = 0) => wrk({
    connections: 64, seconds: time, url: service.url, script: 'reading.lua', scriptArguments: [`run-${key += 1}`, service.cookie, when, String(pause_ms), ...written],
  });
  const readThem = (time) => wrk({ connections: 32, seconds: time, url: service.forecastOf(read[0]), headers: [`Cookie: ${service.cookie}`] });
  await (await fetch(service.forecastOf(read[0]), { headers: { Cookie: service.cookie } })).text(); // on a busy machine its first answer takes long
  await readThem(1);
  const ours = [], p99 = [], alone = [], quiet = [], beside = [], rate = [];
  for (let round = 0; round < rounds; round += 1) {
    alone.push(Number(run(built('sqlite_alone'), [join(folder, 'alone.sqlite'), String(seconds)])));
    const measured = await write(seconds);
    ours.push(measured.a_second);
    p99.push(measured.p99_ms);
  }
  for (let round = 0; round < rounds; round += 1) {
    quiet.push((await readThem(seconds)).a_second);
    const [writing, reading] = await Promise.all([write(seconds, 40), readThem(seconds)]);
    rate.push(writing.a_second);
    beside.push(reading.a_second);
  }
  await service.stop();
  const ratio = median(ours) / median(alone), kept = median(beside) / median(quiet);
  return [
    { what: 'durable writes through the API, 64 clients', ours: median(ours), unit: '/s', peer: median(alone), against: 'SQLite alone, 64 rows a transaction, FULL', ratio, target: 'at least 0.5', met: ratio >= 0.5 },
    { what: 'the same, 99 of 100 within', ours: median(p99), unit: 'ms', target: 'under 25 ms', met: median(p99) < 25 },
    { what: `reads while ${Math.round(median(rate))} durable writes a second go on`, ours: median(beside), unit: '/s', peer: median(quiet), against: 'the same without writes', ratio: kept, target: 'at least 0.7', met: kept >= 0.7 && median(rate) >= 900 },
  ];
}
