#!/usr/bin/env node
// SPDX-License-Identifier: MIT
// Posts an export (standard input) through a running service's API: node demo/load.mjs http://127.0.0.1:8080 CODE
// CODE is the one-time code of an administrator, of `cellarer account add --role administrator --without-passkey`.
// Every entry carries a key made from its content, so that loading twice stores nothing twice.
import { createHash } from 'node:crypto';
import { Agent, request } from 'node:http';

const [address, code] = process.argv.slice(2);
if (!address || !code) {
  console.error('load.mjs takes the address of a running service, a one-time code, and an export on standard input');
  process.exit(2);
}
const atOnce = 8;
const agent = new Agent({ keepAlive: true, maxSockets: atOnce });

let cookie = '';

/** Sends one body; answers when the service has stored it, and fails with the service's own reason. */
function post(path, body) {
  const text = JSON.stringify(body);
  const key = createHash('sha256').update(path).update(text).digest('hex').slice(0, 32);
  const headers = { 'Content-Type': 'application/json', 'Content-Length': Buffer.byteLength(text), 'Idempotency-Key': key,
    'Cellarer-Who': body.who ?? 'Kitchen phone', Prefer: 'return=minimal', ...(cookie && { Cookie: cookie }) };
  return new Promise((resolve, reject) => {
    const sent = request(new URL(`/api/v1${path}`, address), { method: 'POST', agent, headers }, (answer) => {
      const pieces = [];
      answer.on('data', (piece) => pieces.push(piece));
      answer.on('end', () => {
        if (answer.statusCode < 300) return resolve(answer);
        reject(new Error(`POST ${path} ${text}\nwas answered with ${answer.statusCode}: ${Buffer.concat(pieces)}`));
      });
    });
    sent.on('error', reject);
    sent.end(text);
  });
}

let done = 0;
let total = 0;
let shown = 0;
function progress() {
  done += 1;
  if (done < total && Date.now() - shown < 500) return;
  shown = Date.now();
  console.log(`${done} of ${total} entries`);
}

/** Sends all, some at a time, beginning with the oldest. */
async function postAll(entries) {
  let next = 0;
  const sender = async () => {
    while (next < entries.length) {
      const { path, body } = entries[next++];
      await post(path, body);
      progress();
    }
  };
  await Promise.all(Array.from({ length: atOnce }, sender));
}

const pieces = [];
for await (const piece of process.stdin) pieces.push(piece);
const household = JSON.parse(Buffer.concat(pieces).toString('utf8'));
const base = `/households/${household.household}`;

const withoutRecorded = ({ recorded_at, ...body }) => body;
const list = (path, entries) => (entries ?? []).map((entry) => ({ path: `${base}/${path}`, body: withoutRecorded(entry) }));
const when = (entry) => Date.parse(entry.body.at ?? entry.body.from);
const byTime = (entries) => entries.sort((a, b) => when(a) - when(b));

const kept = byTime([...list('units', household.units), ...list('settings', household.settings)]);
const happened = byTime([
  ...list('deliveries', household.deliveries),
  ...list('stock-counts', household.stock_counts),
  ...list('cell-changes', (household.cell_changes ?? []).map((change) => ({ ...change, from_stock: true }))),
  ...list('readings', household.readings),
  ...list('paced', household.paced),
  ...list('switched-off', household.switched_off),
  ...list('stays', household.stays),
]);
total = 1 + kept.length + happened.length;

try {
  const signedIn = await post('/invitations/accept', { code });
  cookie = signedIn.headers['set-cookie'][0].split(';')[0];
  await post('/households', { household: household.household, zone: household.zone, area: household.area, changing_times: household.changing_times,
    items: household.items });
  progress();
  for (const entry of kept) {
    await post(entry.path, entry.body);
    progress();
  }
  await postAll(happened);
} catch (error) {
  console.error(`error: ${error.message}`);
  process.exitCode = 1;
}
agent.destroy();
