// SPDX-License-Identifier: MIT
// Asking the service. An answer is one of three: the document, a problem the service named, or no signal.
import type { Problem } from "./types";

export type Answer<T> = { got: T } | { problem: Problem } | { no_signal: true };

const patience_ms = 15_000;
const base = "/api/v1";

export function household_path(household: string): string {
  return `/households/${encodeURIComponent(household)}`;
}

async function problem_of(response: Response): Promise<Problem> {
  const plain: Problem = { type: "about:blank", title: `The service answered ${response.status}.`, status: response.status };
  try {
    return { ...plain, ...((await response.json()) as Partial<Problem>), status: response.status };
  } catch {
    return plain;
  }
}

async function ask<T>(path: string, request: RequestInit): Promise<Answer<T>> {
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(), patience_ms);
  try {
    const response = await fetch(base + path, { ...request, signal: stop.signal });
    if (!response.ok) return { problem: await problem_of(response) };
    return { got: (await response.json()) as T };
  } catch {
    return { no_signal: true };
  } finally {
    clearTimeout(timer);
  }
}

/// The browser keeps the entity tag: an unchanged document costs a 304.
export function get<T>(path: string): Promise<Answer<T>> {
  return ask<T>(path, { cache: "no-cache", headers: { Accept: "application/json" } });
}

/// One intention has one key, whatever the number of attempts, so that a record sent twice is stored once.
export function post<T>(path: string, body: unknown, key: string): Promise<Answer<T>> {
  const headers = { "Content-Type": "application/json", "Idempotency-Key": key };
  return ask<T>(path, { method: "POST", headers, body: JSON.stringify(body) });
}

/// A question about what would be: nothing is stored, so it needs no key and is never sent again by itself.
export function work_out<T>(path: string, body: unknown): Promise<Answer<T>> {
  return ask<T>(path, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) });
}

/// A refusal by name is final; anything else (overload, restart, a broken proxy) is worth another attempt.
export function may_pass(problem: Problem): boolean {
  return problem.status >= 500 || problem.status === 429 || problem.status === 408;
}

export function problem_code(problem: Problem): string {
  return problem.type.split("/").pop() ?? "";
}
