// SPDX-License-Identifier: MIT
// Many households: loaded, computed anew, served.
import { mkdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { median } from '../numbers.mjs';
import { beside, built, cellarer, folderBytes, freshFolder, memoryMb, root, run, untilIdle, watched, wrk } from '../programs.mjs';
import { changedHomes, loadHomes, makeAgencies, secondsToFirstAnswer, serve } from '../service.mjs';
import { byTrend } from '../trend.mjs';

const cores = 2;
const profiles = ['--profiles', join(root, 'data')];

/** All forecasts anew, half a day later, and once more after a hundredth of the homes changed, in turns with the model
 * alone: { anew, next, changed, model_ms }, each of the first three a list of what `watched` says. */
async function computed(data, homes, count, runs) {
  const file = join(data, '..', 'forecasts.jsonl');
  const now = Date.now();
  const reforecast = async (hours, expected) => {
    const ran = await watched(cellarer, ['reforecast', '--data', data, ...profiles, '--out', file, '--at', new Date(now + hours * 3_600_000).toISOString(), '--json']);
    const said = JSON.parse(ran.said);
    if (said.computed < expected || said.computed + said.kept < count || Object.keys(said.failed).length > 0) throw new Error(`not all were computed: ${ran.said}`);
    return { ...ran, computed: said.computed };
  };
  const found = { anew: [], next: [], changed: [], model_ms: [] };
  for (let i = 1; i <= runs; i += 1) {
    rmSync(file, { force: true });
    const model = JSON.parse(run(built('model_alone'), [data, join(root, 'data'), String(Math.min(count, 100))]));
    found.model_ms.push((1000 * model.processor_seconds) / model.households);
    found.anew.push(await reforecast(0, count));
    found.next.push(await reforecast(13, count)); // half a day later no forecast serves any longer, but what ended sets taught does
    const more = changedHomes(data, homes, i, now);
    for (const load of more.loads) run(cellarer, load);
    const changed = await reforecast(13, more.count);
    if (changed.computed > more.count) throw new Error(`${changed.computed} were computed, and ${more.count} had changed`);
    found.changed.push(changed);
  }
  return found;
}

/** Reads with and without all being computed anew in the background, in turns. */
async function disturbedReads(data, service, url, { rounds, seconds }) {
  const reads = () => wrk({ connections: 32, seconds, url, headers: [`Cookie: ${service.cookie}`] });
  await reads();
  const found = { quiet: [], disturbed: [] };
  for (let round = 0; round < rounds; round += 1) {
    found.quiet.push(await reads());
    const end = beside(cellarer, ['reforecast', '--data', data, ...profiles, '--background']);
    found.disturbed.push(await reads());
    await end();
  }
  const of = (name) => ({ a_second: median(found[name].map((one) => one.a_second)), p99_ms: median(found[name].map((one) => one.p99_ms)) });
  return { quiet: of('quiet'), disturbed: of('disturbed') };
}

async function ofSize(count, options) {
  const data = join(freshFolder(), 'data');
  mkdirSync(data);
  const homes = loadHomes(data, count);
  await makeAgencies(data, homes.agencies);
  let loading_s = 0;
  for (const load of homes.loads) loading_s += (await watched(cellarer, load)).processor_s;
  const kilobytes = folderBytes(data) / 1024 / count;
  const runs = Math.max(1, Math.min(options.rounds, Math.floor(30_000 / count))); // a hundred thousand take minutes
  const { anew, next, changed, model_ms } = await computed(data, homes, count, runs);
  const service = await serve(data);
  const last = homes.references.at(-1);
  const answer = await fetch(service.forecastOf(last), { headers: { Cookie: service.cookie } });
  if (answer.status !== 200) throw new Error(`no forecast: ${await answer.text()}`);
  await answer.text();
  const served_mb = memoryMb(service.pid).now;
  await untilIdle(service.pid, options.patience_s);
  const later_mb = memoryMb(service.pid).now; // what it knows of each home beside the answers is made by then, or on its way
  const { quiet, disturbed } = await disturbedReads(data, service, service.forecastOf(last), options);
  await service.stop();
  const starts = [];
  for (let i = 0; i < options.rounds; i += 1) starts.push(await secondsToFirstAnswer(data, last, service.cookie));
  const each_ms = (all) => median(all.map((one) => (1000 * one.processor_s) / count));
  const clock_s = (all) => median(all.map((one) => one.seconds));
  return {
    count, runs, load_ms: (1000 * loading_s) / count, kilobytes, first_s: median(starts), served_mb, later_mb, quiet, disturbed,
    anew_ms: each_ms(anew), anew_s: clock_s(anew), anew_mb: median(anew.map((one) => one.most_mb)), next_ms: each_ms(next), next_s: clock_s(next),
    changed_s: clock_s(changed), model_ms: median(model_ms),
  };
}

/** `households` and `curve` are for the picture (growth_picture.mjs). */
function rowsOf(one) {
  const of = `${one.count} households`;
  const ratio = one.anew_ms / one.model_ms;
  const { runs, quiet, disturbed } = one;
  const drawn = (curve) => ({ households: one.count, curve });
  return [
    { what: `${of}: all forecasts anew, a household`, ours: one.anew_ms, unit: 'ms of a core', peer: one.model_ms, against: "the model's own time, in memory", ratio, target: 'at most 3 times', met: ratio <= 3, runs, ...drawn('anew') },
    { what: `${of}: the same half a day later, what ended sets taught being kept`, ours: one.next_ms, unit: 'ms of a core', runs, ...drawn('next') },
    { what: `${of}: once more after a hundredth of them got an entry, by the clock`, ours: one.changed_s, unit: 's', peer: one.next_s, against: 'all of them, by the clock', ratio: one.changed_s / one.next_s, runs },
    { what: `${of}: reads while all are computed anew in the background`, ours: disturbed.a_second, unit: '/s', peer: quiet.a_second, against: 'the same with nothing beside', ratio: disturbed.a_second / quiet.a_second },
    { what: `${of}: the same, 99 of 100 within`, ours: disturbed.p99_ms, unit: 'ms', peer: quiet.p99_ms, against: 'the same with nothing beside', ratio: disturbed.p99_ms / quiet.p99_ms },
    { what: `${of}: loading, a household`, ours: one.load_ms, unit: 'ms of a core', runs: 1, ...drawn('load') },
    { what: `${of}: on disk, a household`, ours: one.kilobytes, unit: 'KB', runs: 1, ...drawn('disk') },
    { what: `${of}: memory while all are computed anew`, ours: one.anew_mb, unit: 'MB', runs, ...drawn('anew_memory') },
    { what: `${of}: memory of the service after its first answer`, ours: one.served_mb, unit: 'MB', runs: 1 },
    { what: `${of}: the same once it has nothing to do beside, or three minutes later`, ours: one.later_mb, unit: 'MB', target: 'under 200 MB', met: one.later_mb < 200, runs: 1, ...drawn('served_memory') },
    { what: `${of}: start to first answer`, ours: one.first_s, unit: 's', target: 'under 1 s', met: one.first_s < 1 },
  ];
}

/** What follows from the sizes that were tried. */
function reckoned(all) {
  const [first, last] = [all[0], all.at(-1)];
  const rows = [];
  for (const [what, ms, s] of [['anew', last.anew_ms, last.anew_s], ['half a day later', last.next_ms, last.next_s]]) {
    const seconds = (ms / 1000) * (100_000 / cores);
    rows.push({ what: `100 000 households ${what} on two free cores, reckoned from ${last.count}`, ours: seconds, unit: 's', peer: (s * 100_000) / last.count, against: 'by the clock, as busy as the machine was', target: 'under 60 s', met: seconds < 60, runs: last.runs });
  }
  if (all.length < 2) return rows;
  const growth = last.anew_ms / first.anew_ms;
  rows.push({ what: `time a household, ${last.count} against ${first.count}`, ratio: growth, target: 'at most 1.2', met: growth <= 1.2, runs: last.runs });
  const most = 10_000_000;
  const together = (name, unit_of) => (byTrend(all.map((one) => [one.count, one[name]]), most) * most) / unit_of;
  const hour_ms = 3_600_000, gigabyte_KB = 1024 ** 2;
  const of = `ten million households, by the trend from ${first.count} to ${last.count}`;
  rows.push({ what: `${of}: all forecasts anew, on two free cores`, ours: together('anew_ms', hour_ms * cores), unit: 'h', runs: last.runs },
    { what: `${of}: the same half a day later`, ours: together('next_ms', hour_ms * cores), unit: 'h', runs: last.runs },
    { what: `${of}: loading them`, ours: together('load_ms', hour_ms), unit: 'h of a core', runs: 1 },
    { what: `${of}: on disk`, ours: together('kilobytes', gigabyte_KB), unit: 'GB', runs: 1 });
  return rows;
}

export async function rows({ sizes, ...options }) {
  const all = [];
  for (const count of sizes) all.push(await ofSize(count, options));
  return [...all.flatMap(rowsOf), ...reckoned(all)];
}
