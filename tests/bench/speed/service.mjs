// SPDX-License-Identifier: MIT
// The real service on a folder of invented households, and who is signed in there.
import { randomUUID } from 'node:crypto';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { cellarer, root, run, start } from './programs.mjs';

/** An agency has hundreds to thousands of homes (DEVELOPERS.md); more are more agencies. */
const usualAgency = 1000;

const loadsOf = (data, agencies, file) => agencies.map((agency) => ['load', '--data', data, '--agency', agency, file, '--json']);

/** Homes of the demo's agency, which are 300 different ones; more are the same again under other names, and in other
 * agencies, `agency` being the first. References are of one agency, each has the same; `loads` are an agency's each. */
export function loadHomes(data, all, homesOfAgency = usualAgency) {
  const agencies = Array.from({ length: Math.ceil(all / homesOfAgency) }, (_, i) => (i === 0 ? 'agency' : `agency-${i + 1}`));
  const count = Math.ceil(all / agencies.length);
  const different = Math.min(count, 300);
  const lines = run('node', [join(root, 'demo/agency.mjs'), '--homes', String(different)]).trim().split('\n')
    .filter((line) => line.startsWith('{"household"') || JSON.parse(line).household);
  const names = lines.map((line) => line.match(/"household":"(demo-\d+)"/)[1]);
  const file = join(data, '..', 'homes.jsonl');
  const references = [];
  const lineOf = (i) => lines[i % lines.length].replaceAll(`"${names[i % lines.length]}"`, `"${references[i]}"`);
  for (let i = 0; i < count; i += 1) references.push(i < lines.length ? names[i] : `${names[i % lines.length]}-${Math.floor(i / lines.length)}`);
  writeFileSync(file, references.map((_, i) => `${lineOf(i)}\n`).join(''));
  return { references, agencies, lineOf, loads: loadsOf(data, agencies, file) };
}

/** So many further readings in a hundredth of the homes, a second apart from `since_ms` on, which say what the last one
 * said: { count, loads }. What was loaded before is kept, so that with one more each time each time adds one. */
export function changedHomes(data, homes, times, since_ms) {
  const file = join(data, '..', 'changed.jsonl');
  const at = (time) => new Date(time).toISOString().replace(/\.\d+Z/, 'Z');
  const wanted = Math.max(1, Math.round(homes.references.length / 100));
  const changed = [];
  for (let i = 0; i < homes.references.length && changed.length < wanted; i += 1) {
    const home = JSON.parse(homes.lineOf(i));
    const last = home.entries.findLast((entry) => entry.kind === 'reading' && (entry.body.percent ?? entry.body.step) !== undefined);
    if (!last) continue;
    for (let k = 1; k <= times; k += 1) {
      const when = at(since_ms + k * 1000);
      home.entries.push({ ...last, at: when, recorded_at: when, body: { ...last.body, at: when } });
    }
    changed.push(`${JSON.stringify(home)}\n`);
  }
  writeFileSync(file, changed.join(''));
  return { count: changed.length * homes.agencies.length, loads: loadsOf(data, homes.agencies, file) };
}

async function begin(data, config) {
  const file = join(data, '..', 'config.json');
  writeFileSync(file, JSON.stringify(config));
  const service = await start(cellarer, ['serve', '--data', data, '--port', '0', '--profiles', join(root, 'data'), '--config', file, '--json']);
  const url = `http://127.0.0.1:${JSON.parse(service.line).port}`;
  return { ...service, url, forecastOf: (reference) => `${url}/api/v1/households/${reference}/forecast` };
}

/** From the start of the program to the first forecast [s], for somebody who is signed in already. */
export async function secondsToFirstAnswer(data, reference, cookie) {
  const began = performance.now();
  const service = await begin(data, {});
  const answer = await fetch(service.forecastOf(reference), { headers: { Cookie: cookie } });
  await answer.text();
  const seconds = (performance.now() - began) / 1000;
  await service.stop();
  if (answer.status !== 200) throw new Error(`no forecast after a start: ${answer.status}`);
  return seconds;
}

async function post(url, body, headers = {}) {
  const answer = await fetch(url, { method: 'POST', body: JSON.stringify(body), headers: { 'Content-Type': 'application/json', 'Idempotency-Key': randomUUID(), ...headers } });
  if (answer.status !== 201) throw new Error(`${url}: ${await answer.text()}`);
  return answer;
}

/** Serves as configured, somebody being signed in. */
export async function serve(data, config = {}, role = 'administrator') {
  const service = await begin(data, config);
  const { code } = JSON.parse(run(cellarer, ['account', 'add', '--data', data, '--role', role, '--label', 'Benchmark', '--without-passkey', '--json']));
  const accepted = await post(`${service.url}/api/v1/invitations/accept`, { code });
  const cookie = accepted.headers.get('set-cookie').split(';')[0];
  return { ...service, cookie };
}

/** Agencies beside the first, which is always there. */
export async function makeAgencies(data, agencies) {
  if (agencies.length < 2) return;
  const service = await serve(data, {}, 'operator');
  for (const agency of agencies.slice(1)) await post(`${service.url}/api/v1/agencies`, { agency }, { Cookie: service.cookie });
  await service.stop();
}
