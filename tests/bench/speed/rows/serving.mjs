// SPDX-License-Identifier: MIT
// GET of a household's forecast, signed in: the service on one I/O thread, a bare Beast server and nginx with the same
// bytes, and a server as it would be written first. Each is asked by wrk, in turns. What counts is answers a second of
// one core of the server: on a machine that others use the wall's time says more of them than of the servers.
import { chmodSync, mkdirSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { median } from '../numbers.mjs';
import { built, cellarer, freshFolder, processorSeconds, run, start, untilIdle, wrk } from '../programs.mjs';
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

async function sameBytes(one, body) {
  for (let tries = 0; ; tries += 1) {
    const answer = await fetch(one.url, { headers: { ...one.headers, 'Accept-Encoding': 'identity' } }).catch(() => null);
    if (answer === null && tries < 50) {
      await new Promise((resolve) => { setTimeout(resolve, 100); });
      continue;
    }
    const text = await answer.text();
    // nlohmann sorts names, so that one answers the same document in another order.
    if (answer.status !== 200 || (one.sorts ? text.length !== body.length : text !== body)) throw new Error(`${one.url} answers something else`);
    return;
  }
}

export async function rows({ rounds, seconds }) {
  const folder = freshFolder();
  const data = join(folder, 'data');
  mkdirSync(data);
  const homes = loadHomes(data, 10);
  run(cellarer, homes.loads[0]);
  const service = await serve(data, { io_threads: 1 });
  const url = service.forecastOf(homes.references[0]);
  const answer = await fetch(url, { headers: { Cookie: service.cookie, 'Accept-Encoding': 'identity' } }); // as wrk asks
  const body = await answer.text();
  if (answer.status !== 200) throw new Error(`no forecast: ${body}`);
  const sent = [...answer.headers].filter(([name]) => name !== 'content-length' && name !== 'connection').map(([name, value]) => `${name}: ${value}\n`).join('');
  writeFileSync(join(folder, 'headers'), sent);
  writeFileSync(join(folder, 'body'), body);
  writeFileSync(join(folder, 'cookie'), service.cookie);
  const all = {
    ours: { ...service, url, headers: { Cookie: service.cookie } },
    bare: await peerServer('bare', join(folder, 'headers'), join(folder, 'body')),
    nginx: await nginx(folder, body),
    naive: { ...await peerServer('naive', join(folder, 'naive.sqlite'), join(folder, 'cookie'), join(folder, 'body')), headers: { Cookie: service.cookie }, sorts: true },
  };
  for (const one of Object.values(all)) await sameBytes(one, body);
  await untilIdle(service.pid);
  const varied = [];
  const found = Object.fromEntries(Object.keys(all).map((name) => [name, []]));
  for (let round = 0; round < rounds; round += 1) {
    for (const [name, one] of Object.entries(all)) {
      const before = processorSeconds(one.pid);
      const measured = await wrk({ connections: 32, seconds, url: one.url, headers: [`Cookie: ${service.cookie}`] });
      found[name].push(measured.requests / (processorSeconds(one.pid) - before));
    }
    const before = processorSeconds(service.pid);
    const measured = await wrk({ connections: 32, seconds, url, script: 'varied.lua', scriptArguments: [service.cookie] });
    varied.push(measured.requests / (processorSeconds(service.pid) - before));
  }
  for (const one of Object.values(all)) await one.stop();
  const ours = median(found.ours);
  const row = (name, against, least) => ({
    what: `GET of a forecast, signed in (${body.length} octets)`, ours, unit: '/s of a core', peer: median(found[name]), against,
    ratio: ours / median(found[name]), target: `at least ${least}`, met: ours / median(found[name]) >= least,
  });
  const anew = { what: 'the same, no request like another, so that each is understood anew', ours: median(varied), unit: '/s of a core', peer: median(found.bare), against: 'bare Beast, the same bytes', ratio: median(varied) / median(found.bare) };
  return [row('bare', 'bare Beast, the same bytes', 0.85), row('nginx', 'nginx, a static file', 1.0), row('naive', 'Beast, SQLite, nlohmann per request', 6), anew];
}
