// SPDX-License-Identifier: MIT
// Programs that the benchmark runs: to their end, or beside it until it is done with them.
import { spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = fileURLToPath(new URL('../../..', import.meta.url));
export const cellarer = join(root, 'build/server/cellarer');
export const built = (name) => join(root, 'build/tests/bench/speed', name);
const here = (name) => fileURLToPath(new URL(name, import.meta.url));

/** A new folder on the disk that the project is on, not in memory: durable writes are part of what is measured. */
export function freshFolder() {
  mkdirSync(join(root, 'build/speed'), { recursive: true });
  const folder = mkdtempSync(join(root, 'build/speed/run-'));
  process.once('exit', () => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

export function run(program, parameters, input) {
  const ended = spawnSync(program, parameters, { encoding: 'utf8', input, maxBuffer: 1 << 30 });
  if (ended.error) throw ended.error;
  if (ended.status !== 0) throw new Error(`${program} ${parameters.join(' ')}: ${ended.stderr}`);
  return ended.stdout;
}

const children = (pid) => readFileSync(`/proc/${pid}/task/${pid}/children`, 'utf8').split(' ').filter(Boolean).map(Number);

/** Processor time [s] that a program and its children have taken so far. */
export function processorSeconds(pid) {
  let ticks = 0;
  for (const one of [pid, ...children(pid)]) {
    const fields = readFileSync(`/proc/${one}/stat`, 'utf8').split(') ')[1].split(' ');
    ticks += Number(fields[11]) + Number(fields[12]);
  }
  return ticks / 100; // USER_HZ, which Linux keeps at 100 for every program
}

/** What a service does beside its first minutes is over: it takes less than a fiftieth of a core. */
export async function untilIdle(pid, most_s) {
  const pause_s = 3;
  for (let passed_s = 0; passed_s < most_s; passed_s += pause_s) {
    const before = processorSeconds(pid);
    await new Promise((resolve) => { setTimeout(resolve, 1000 * pause_s); });
    if (passed_s >= 12 && processorSeconds(pid) - before < pause_s / 50) return;
  }
}

/** Memory [MB] of a program: what it holds now, and at most so far. */
export function memoryMb(pid) {
  const status = readFileSync(`/proc/${pid}/status`, 'utf8');
  const kilobytes = (name) => Number(status.match(new RegExp(`${name}:\\s+(\\d+)`))[1]);
  return { now: kilobytes('VmRSS') / 1024, most: kilobytes('VmHWM') / 1024 };
}

const running = new Set();
process.once('exit', () => running.forEach((child) => child.kill('SIGKILL')));

/** Starts a program that says in its first line that it serves; answers that line, how to end it, and how to hear what it
 * writes to its log: `hear` takes who hears it, and answers how to stop hearing. */
export async function start(program, parameters) {
  const child = spawn(program, parameters, { stdio: ['ignore', 'pipe', 'pipe'] });
  running.add(child);
  let errors = '';
  child.stderr.on('data', (piece) => { errors = (errors + piece).slice(-2000); });
  const ended = new Promise((resolve) => { child.once('exit', resolve); });
  const line = await new Promise((resolve, reject) => {
    let said = '';
    child.stdout.on('data', (piece) => {
      said += piece;
      if (said.includes('\n')) resolve(said.slice(0, said.indexOf('\n')));
    });
    child.once('exit', () => reject(new Error(`${program} ended: ${errors}`)));
  });
  const stop = async () => {
    child.kill('SIGTERM');
    await ended;
    running.delete(child);
  };
  const hear = (hearer) => {
    child.stderr.on('data', hearer);
    return () => child.stderr.off('data', hearer);
  };
  return { pid: child.pid, line, stop, hear };
}

/** What `work` did, and milliseconds at the service, by its log, of each request meanwhile that `asks` this (a regular
 * expression of method and address); throws where one was not answered with `status`. */
export async function timesAtServer(service, { asks, status }, work) {
  let log = '';
  const stop = service.hear((piece) => { log += piece; });
  const did = await work();
  await new Promise((resolve) => { setTimeout(resolve, 500); }); // the log goes out ten times a second
  stop();
  const told = [...log.matchAll(new RegExp(` ${asks} status=(\\d+) bytes=\\d+ ms=([\\d.]+)`, 'g'))];
  const other = told.find(([, answered]) => Number(answered) !== status);
  if (other || told.length === 0) throw new Error(`not answered as wanted: ${other?.[0] ?? asks}`);
  return { did, times_ms: told.map(([, , ms]) => Number(ms)) };
}

/** A program that runs to its end while its time and memory are watched. */
export async function watched(program, parameters) {
  const child = spawn(program, parameters, { stdio: ['ignore', 'pipe', 'inherit'] });
  running.add(child);
  const began = performance.now();
  let said = '', processor_s = 0, most_mb = 0;
  child.stdout.on('data', (piece) => { said += piece; });
  const look = () => {
    if (!existsSync(`/proc/${child.pid}/stat`)) return;
    try {
      processor_s = processorSeconds(child.pid);
      most_mb = memoryMb(child.pid).most;
    } catch { /* it has just ended */ }
  };
  const timer = setInterval(look, 20);
  const code = await new Promise((resolve) => { child.once('close', resolve); });
  clearInterval(timer);
  running.delete(child);
  if (code !== 0) throw new Error(`${program} ${parameters.join(' ')} ended with ${code}`);
  return { said, seconds: (performance.now() - began) / 1000, processor_s, most_mb };
}

/** A program beside what is measured, again whenever it has ended; answers how to end it. */
export function beside(program, parameters) {
  let child, ended, wanted = true;
  const begin = () => {
    child = spawn(program, parameters, { stdio: 'ignore' });
    const one = child;
    running.add(one);
    ended = new Promise((resolve) => {
      one.once('exit', () => {
        running.delete(one);
        if (wanted) begin();
        resolve();
      });
    });
  };
  begin();
  return async () => {
    wanted = false;
    child.kill('SIGTERM');
    await ended;
  };
}

/** wrk beside the service: what it measured, without a request that was refused or broke off. */
export async function wrk({ connections, seconds, url, headers = [], script = 'report.lua', scriptArguments = [] }) {
  const parameters = ['-t1', `-c${connections}`, `-d${seconds}s`, '--timeout', '30s', '-s', here(script)];
  for (const header of headers) parameters.push('-H', header);
  const child = spawn('wrk', [...parameters, url, ...(scriptArguments.length ? ['--', ...scriptArguments] : [])], { stdio: ['ignore', 'pipe', 'inherit'] });
  running.add(child);
  let said = '';
  child.stdout.on('data', (piece) => { said += piece; });
  await new Promise((resolve) => { child.once('close', resolve); });
  running.delete(child);
  const measured = JSON.parse(said.trim().split('\n').at(-1));
  if (measured.refused + measured.broken > 0 || measured.requests === 0) throw new Error(`wrk against ${url}: ${said}`);
  return { ...measured, a_second: measured.requests / measured.seconds };
}

export const folderBytes = (folder) => readdirSync(folder).reduce((sum, name) => sum + statSync(join(folder, name)).size, 0);
