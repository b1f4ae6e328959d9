// SPDX-License-Identifier: MIT
// The real service on a folder of invented households, and who is signed in there.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { cellarer, root, run, start } from './programs.mjs';

/** Homes of the demo's agency, which are 300 different ones; more are the same again under other names. Written as they
 * are made: a million of them are larger than memory. */
export function loadHomes(data, count) {
  const different = Math.min(count, 300);
  const lines = run('node', [join(root, 'demo/agency.mjs'), '--homes', String(different)]).trim().split('\n')
    .filter((line) => line.startsWith('{"household"') || JSON.parse(line).household);
  const names = lines.map((line) => line.match(/"household":"(demo-\d+)"/)[1]);
  const file = join(data, '..', 'homes.jsonl');
  writeFileSync(file, '');
  const references = [];
  let waiting = '';
  for (let i = 0; i < count; i += 1) {
    const name = names[i % lines.length];
    const reference = i < lines.length ? name : `${name}-${Math.floor(i / lines.length)}`;
    references.push(reference);
    waiting += `${lines[i % lines.length].replaceAll(`"${name}"`, `"${reference}"`)}\n`;
    if (waiting.length < 16 << 20 && i + 1 < count) continue;
    writeFileSync(file, waiting, { flag: 'a' });
    waiting = '';
  }
  return { references, file, load: ['load', '--data', data, file, '--json'] };
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

/** Serves as configured, signed in as administrator. */
export async function serve(data, config = {}) {
  const service = await begin(data, config);
  const { url } = service;
  const { code } = JSON.parse(run(cellarer, ['account', 'add', '--data', data, '--role', 'administrator', '--label', 'Benchmark', '--without-passkey', '--json']));
  const accepted = await fetch(`${url}/api/v1/invitations/accept`, {
    method: 'POST', body: JSON.stringify({ code }), headers: { 'Content-Type': 'application/json', 'Idempotency-Key': 'benchmark' },
  });
  if (accepted.status !== 201) throw new Error(`not let in: ${await accepted.text()}`);
  const cookie = accepted.headers.get('set-cookie').split(';')[0];
  return { ...service, cookie };
}
