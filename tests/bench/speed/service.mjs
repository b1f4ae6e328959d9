// SPDX-License-Identifier: MIT
// The real service on a folder of invented households, and who is signed in there.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { cellarer, root, run, start } from './programs.mjs';

/** Homes of the demo's agency, which are 300 different ones; more are the same again under other names. */
export function loadHomes(data, count) {
  const different = Math.min(count, 300);
  const lines = run('node', [join(root, 'demo/agency.mjs'), '--homes', String(different)]).trim().split('\n')
    .filter((line) => line.startsWith('{"household"') || JSON.parse(line).household);
  const references = [], written = [];
  for (let i = 0; i < count; i += 1) {
    const line = lines[i % lines.length];
    const name = line.match(/"household":"(demo-\d+)"/)[1];
    const reference = i < lines.length ? name : `${name}-${Math.floor(i / lines.length)}`;
    references.push(reference);
    written.push(line.replaceAll(`"${name}"`, `"${reference}"`));
  }
  const file = join(data, '..', 'homes.jsonl');
  writeFileSync(file, '');
  for (let i = 0; i < written.length; i += 1000) writeFileSync(file, `${written.slice(i, i + 1000).join('\n')}\n`, { flag: 'a' });
  return { references, file, load: ['load', '--data', data, file, '--json'] };
}

/** Serves with so many I/O threads, signed in as administrator. */
export async function serve(data, config = {}) {
  const file = join(data, '..', 'config.json');
  writeFileSync(file, JSON.stringify(config));
  const began = performance.now();
  const service = await start(cellarer, ['serve', '--data', data, '--port', '0', '--profiles', join(root, 'data'), '--config', file, '--json']);
  const url = `http://127.0.0.1:${JSON.parse(service.line).port}`;
  const { code } = JSON.parse(run(cellarer, ['account', 'add', '--data', data, '--role', 'administrator', '--label', 'Benchmark', '--without-passkey', '--json']));
  const accepted = await fetch(`${url}/api/v1/invitations/accept`, {
    method: 'POST', body: JSON.stringify({ code }), headers: { 'Content-Type': 'application/json', 'Idempotency-Key': 'benchmark' },
  });
  if (accepted.status !== 201) throw new Error(`not let in: ${await accepted.text()}`);
  const cookie = accepted.headers.get('set-cookie').split(';')[0];
  return { ...service, url, cookie, began, forecastOf: (reference) => `${url}/api/v1/households/${reference}/forecast` };
}
