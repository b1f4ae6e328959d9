// SPDX-License-Identifier: MIT
// GET of a household's forecast, signed in: the service on one I/O thread, a bare Beast server and nginx with the same
// bytes, and a server as it would be written first. Each is asked by wrk, in turns. What counts is answers a second of
// one core of the server: on a machine that others use the wall's time says more of them than of the servers.
import { chmodSync, mkdirSync, writeFileSync } from 'node:fs';
import { get } from 'node:http';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { median, quantile } from '../numbers.mjs';
import { built, cellarer, freshFolder, processorSeconds, run, start, timesAtServer, untilIdle, wrk } from '../programs.mjs';
import { loadHomes, serve } from '../service.mjs';

const freePort = () => new Promise((resolve) => {
  const server = createServer().listen(0, '127.0.0.1', () => {
    const { port } = server.address();
    server.close(() => resolve(port));
  });
});

async function nginx(folder, body) {
  const port = await freePort();
  mkdirSync(join(folder, 'www'));
  chmodSync(folder, 0o755);
  writeFileSync(join(folder, 'www/forecast'), body);
  const file = join(folder, 'nginx.conf');
  writeFileSync(file, `${process.getuid() === 0 ? 'user root;' : ''} worker_processes 1; daemon off; pid ${folder}/nginx.pid; error_log stderr;
    events { worker_connections 256; }
    http { access_log off; sendfile on; tcp_nopush on; keepalive_requests 1000000000; open_file_cache max=16;
      client_body_temp_path ${folder}/b; proxy_temp_path ${folder}/p; fastcgi_temp_path ${folder}/f; uwsgi_temp_path ${folder}/u; scgi_temp_path ${folder}/s;
      server { listen 127.0.0.1:${port}; root ${folder}/www; location / { default_type application/json; } } }`);
  const peer = await start('sh', ['-c', `echo ${port}; exec nginx -e stderr -c '${file}'`]);
  return { ...peer, url: `http://127.0.0.1:${port}/forecast` };
}

async function peerServer(...parameters) {
  const peer = await start(built('peer_server'), parameters);
  return { ...peer, url: `http://127.0.0.1:${peer.line}/forecast` };
}

/** { status, headers, body }, as it came: what was compressed stays so. */
const raw = (url, headers) => new Promise((resolve, reject) => {
  const request = get(url, { headers }, (answer) => {
    const pieces = [];
    answer.on('data', (piece) => pieces.push(piece));
    answer.on('end', () => resolve({ status: answer.statusCode, headers: answer.headers, body: Buffer.concat(pieces) }));
  });
  request.on('error', reject);
});

async function sameBytes({ url, headers, sorts }, body) {
  for (let tries = 0; ; tries += 1) {
    const answer = await raw(url, headers).catch(() => null);
    if (answer === null && tries < 50) {
      await new Promise((resolve) => { setTimeout(resolve, 100); });
      continue;
    }
    // nlohmann sorts names, so that one answers the same document in another order.
    if (answer?.status !== 200 || (sorts ? answer.body.length !== body.length : !answer.body.equals(body))) throw new Error(`${url} answers something else`);
    return;
  }
}

/** What the service answers, kept in files for a peer that answers the same. */
async function kept(folder, name, url, headers) {
  const answer = await raw(url, headers);
  if (answer.status !== 200) throw new Error(`no forecast: ${answer.body}`);
  const files = [join(folder, `${name}-headers`), join(folder, `${name}-body`)];
  writeFileSync(files[0], Object.entries(answer.headers).filter(([header]) => header !== 'content-length' && header !== 'connection').map(([header, value]) => `${header}: ${value}\n`).join(''));
  writeFileSync(files[1], answer.body);
  return { files, body: answer.body, compressed: answer.headers['content-encoding'] === 'gzip' };
}

/** The first `GET` of each of many homes, one after the other. */
async function firstGets({ rounds, homes: count, patience_s }) {
  const data = join(freshFolder(), 'data');
  mkdirSync(data);
  const homes = loadHomes(data, count);
  run(cellarer, homes.loads[0]);
  const service = await serve(data);
  await untilIdle(service.pid, patience_s);
  const a_round = Math.floor(count / rounds);
  const found = [];
  for (let round = 0; round < rounds; round += 1) {
    const { times_ms } = await timesAtServer(service, { asks: 'GET \\S+/forecast', status: 200 }, async () => {
      for (const reference of homes.references.slice(round * a_round, (round + 1) * a_round)) await raw(service.forecastOf(reference), { Cookie: service.cookie });
    });
    if (times_ms.length !== a_round) throw new Error(`${times_ms.length} answers to ${a_round} requests`);
    found.push(times_ms);
  }
  await service.stop();
  const of = (share) => median(found.map((times_ms) => quantile(times_ms, share)));
  return [
    { what: 'the first GET of a home that nobody asked for since the start, one client, at the server: half of 100 within', ours: of(0.5), unit: 'ms' },
    { what: 'the same, 99 of 100 within', ours: of(0.99), unit: 'ms' },
  ];
}

export async function rows(options) {
  const { rounds, seconds, patience_s } = options;
  const folder = freshFolder();
  const data = join(folder, 'data');
  mkdirSync(data);
  const homes = loadHomes(data, 10);
  run(cellarer, homes.loads[0]);
  const service = await serve(data, { io_threads: 1 });
  const url = service.forecastOf(homes.references[0]);
  const cookie = { Cookie: service.cookie };
  const zipped = { ...cookie, 'Accept-Encoding': 'gzip' };
  const whole = await kept(folder, 'whole', url, cookie), short = await kept(folder, 'short', url, zipped);
  if (whole.compressed || !short.compressed) throw new Error('not compressed as asked');
  writeFileSync(join(folder, 'cookie'), service.cookie);
  const all = {
    ours: { ...service, url, headers: cookie, answers: whole },
    bare: { ...await peerServer('bare', ...whole.files), headers: cookie, answers: whole },
    nginx: { ...await nginx(folder, whole.body), headers: cookie, answers: whole },
    naive: { ...await peerServer('naive', join(folder, 'naive.sqlite'), join(folder, 'cookie'), whole.files[1]), headers: cookie, answers: whole, sorts: true },
    varied: { ...service, url, headers: cookie, answers: whole, script: { script: 'varied.lua', scriptArguments: [service.cookie] } },
    zipped: { ...service, url, headers: zipped, answers: short },
    bare_zipped: { ...await peerServer('bare', ...short.files), headers: zipped, answers: short },
  };
  for (const one of Object.values(all)) await sameBytes(one, one.answers.body);
  await untilIdle(service.pid, patience_s);
  const of_a_core = Object.fromEntries(Object.keys(all).map((name) => [name, []])), by_clock = structuredClone(of_a_core);
  for (let round = 0; round < rounds; round += 1) {
    for (const [name, one] of Object.entries(all)) {
      const before = processorSeconds(one.pid);
      const headers = one.script ? [] : Object.entries(one.headers).map(([header, value]) => `${header}: ${value}`);
      const measured = await wrk({ connections: 32, seconds, url: one.url, headers, ...one.script });
      of_a_core[name].push(measured.requests / (processorSeconds(one.pid) - before));
      by_clock[name].push(measured.a_second);
    }
  }
  for (const one of Object.values(all)) if (one.pid !== service.pid) await one.stop();
  await service.stop();
  const row = (what, found, [mine, name, against], unit, least) => {
    const ours = median(found[mine]), peer = median(found[name]);
    return { what, ours, unit, peer, against, ratio: ours / peer, ...(least && { target: `at least ${least}`, met: ours / peer >= least }) };
  };
  const what = `GET of a forecast, signed in (${whole.body.length} octets)`;
  const bare = ['ours', 'bare', 'bare Beast, the same bytes'], file = ['ours', 'nginx', 'nginx, a static file'];
  return [
    row(what, of_a_core, bare, '/s of a core', 0.85),
    row(what, of_a_core, file, '/s of a core', 1.0),
    row(what, of_a_core, ['ours', 'naive', 'Beast, SQLite, nlohmann per request'], '/s of a core', 6),
    row('the same, no request like another, so that each is understood anew', of_a_core, ['varied', 'bare', 'bare Beast, the same bytes'], '/s of a core'),
    row(`the same, gzip accepted (${short.body.length} octets)`, of_a_core, ['zipped', 'bare_zipped', 'bare Beast, the same compressed bytes'], '/s of a core'),
    row('the same as a whole, by the clock, wrk on the other core', by_clock, bare, '/s'),
    row('the same as a whole, by the clock, wrk on the other core', by_clock, file, '/s'),
    ...await firstGets(options),
  ];
}
