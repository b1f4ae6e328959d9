// SPDX-License-Identifier: MIT
// Many households: loaded, computed anew, served.
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { median } from '../numbers.mjs';
import { beside, built, cellarer, folderBytes, freshFolder, memoryMb, root, run, untilIdle, watched, wrk } from '../programs.mjs';
import { loadHomes, makeAgencies, secondsToFirstAnswer, serve } from '../service.mjs';


async function ofSize(count) {
  const data = join(freshFolder(), 'data');
  mkdirSync(data);
  const homes = loadHomes(data, count);
  await makeAgencies(data, homes.agencies);
  let loading_s = 0;
  for (const load of homes.loads) loading_s += (await watched(cellarer, load)).processor_s;
  const model = JSON.parse(run(built('model_alone'), [data, join(root, 'data'), String(Math.min(count, 100))]));
  const forecasts = join(data, '..', 'forecasts.jsonl');
  const reforecast = async (hours) => {
    const at = new Date(now + hours * 3_600_000).toISOString();
    const ran = await watched(cellarer, ['reforecast', '--data', data, '--profiles', join(root, 'data'), '--out', forecasts, '--at', at, '--json']);
    const said = JSON.parse(ran.said);
    if (said.computed < count || Object.keys(said.failed).length > 0) throw new Error(`not all were computed: ${ran.said}`);
    return ran;
  };
  const now = Date.now();
  const anew = await reforecast(0);
  const next = await reforecast(13);  // half a day later no forecast serves any longer, but what ended sets taught does
  const service = await serve(data);
  const answer = await fetch(service.forecastOf(homes.references.at(-1)), { headers: { Cookie: service.cookie } });
  if (answer.status !== 200) throw new Error(`no forecast: ${await answer.text()}`);
  await answer.text();
  const served_mb = memoryMb(service.pid).now;
  await untilIdle(service.pid);
  const later_mb = memoryMb(service.pid).now; // what it knows of each home beside the answers is made by then, or on its way
  const reads = async () => (await wrk({ connections: 32, seconds: 2, url: service.forecastOf(homes.references.at(-1)), headers: [`Cookie: ${service.cookie}`] })).a_second;
  await reads();
  const quiet = [], disturbed = [];
  for (let round = 0; round < 3; round += 1) {
    quiet.push(await reads());
    const end = beside(cellarer, ['reforecast', '--data', data, '--profiles', join(root, 'data'), '--background']);
    disturbed.push(await reads());
    await end();
  }
  await service.stop();
  const starts = [];
  for (let i = 0; i < 3; i += 1) starts.push(await secondsToFirstAnswer(data, homes.references.at(-1), service.cookie));
  const first_s = median(starts);
  return {
    count, load_ms: (1000 * loading_s) / count, kilobytes: folderBytes(data) / 1024 / count, first_s, served_mb, later_mb, quiet: median(quiet), disturbed: median(disturbed),
    anew_ms: (1000 * anew.processor_s) / count, anew_mb: anew.most_mb, next_ms: (1000 * next.processor_s) / count, model_ms: (1000 * model.processor_seconds) / model.households,
  };
}

export async function rows({ sizes }) {
  const all = [];
  for (const count of sizes) all.push(await ofSize(count));
  const last = all.at(-1);
  const rows = [];
  for (const one of all) {
    const of = `${one.count} households`;
    const ratio = one.anew_ms / one.model_ms;
    rows.push({ what: `${of}: all forecasts anew, a household`, ours: one.anew_ms, unit: 'ms of a core', peer: one.model_ms, against: "the model's own time, in memory", ratio, target: 'at most 3 times', met: ratio <= 3 },
      { what: `${of}: the same half a day later, what ended sets taught being kept`, ours: one.next_ms, unit: 'ms of a core' },
      { what: `${of}: reads while all are computed anew in the background`, ours: one.disturbed, unit: '/s', peer: one.quiet, against: 'the same with nothing beside', ratio: one.disturbed / one.quiet },
      { what: `${of}: loading, a household`, ours: one.load_ms, unit: 'ms of a core' },
      { what: `${of}: on disk, a household`, ours: one.kilobytes, unit: 'KB' },
      { what: `${of}: memory while all are computed anew`, ours: one.anew_mb, unit: 'MB' },
      { what: `${of}: memory of the service after its first answer`, ours: one.served_mb, unit: 'MB' },
      { what: `${of}: the same once it has nothing to do beside, or three minutes later`, ours: one.later_mb, unit: 'MB', target: 'under 200 MB', met: one.later_mb < 200 },
      { what: `${of}: start to first answer`, ours: one.first_s, unit: 's', target: 'under 1 s', met: one.first_s < 1 });
  }
  const hundred_thousand_s = (ms) => (ms / 1000) * 100_000 / 2;
  for (const [what, ms] of [['anew', last.anew_ms], ['half a day later', last.next_ms]]) {
    const seconds = hundred_thousand_s(ms);
    rows.push({ what: `100 000 households ${what} on two free cores, reckoned from ${last.count}`, ours: seconds, unit: 's', target: 'under 60 s', met: seconds < 60 });
  }
  if (all.length > 1) {
    const growth = last.anew_ms / all[0].anew_ms;
    rows.push({ what: `time a household, ${last.count} against ${all[0].count}`, ratio: growth, target: 'at most 1.2', met: growth <= 1.2 });
  }
  return rows;
}
