// SPDX-License-Identifier: MIT
// Asking the service. An answer is one of three: the document, a problem the service named, or no signal.
import { in_our_language, refused_in_our_language } from "../words/language";
import { learn_clock } from "../time/service_clock";
import { base, patience_ms, reading, taken } from "./ahead";
import type { Problem } from "./types";

export { household_path } from "./ahead";

export type Answer<T> = { got: T } | { problem: Problem } | { no_signal: true };

async function problem_of(response: Response): Promise<Problem> {
  const plain: Problem = { type: "about:blank", title: `The service answered ${response.status}.`, status: response.status };
  const wait_s = Number(response.headers.get("Retry-After"));
  if (wait_s > 0) plain.retry_after_s = wait_s;
  try {
    return { ...plain, ...((await response.json()) as Partial<Problem>), status: response.status };
  } catch {
    return plain;
  }
}

async function ask<T>(path: string, request: RequestInit, ahead?: Promise<Response>, patience = patience_ms): Promise<Answer<T>> {
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(), patience);
  try {
    const response = await (ahead ?? fetch(base + path, { ...request, signal: stop.signal }));
    learn_clock(response.headers.get("Date"));
    if (!response.ok) return { problem: refused_in_our_language(await problem_of(response)) };
    const text = await response.text();
    return { got: in_our_language((text ? JSON.parse(text) : null) as T) };
  } catch {
    return { no_signal: true };
  } finally {
    clearTimeout(timer);
  }
}

export function get<T>(path: string, patience = patience_ms): Promise<Answer<T>> {
  return ask<T>(path, reading, taken(path), patience);
}

/// One intention has one key, whatever the number of attempts, so that a record sent twice is stored once.
export function post<T>(path: string, body: unknown, key: string, more: Record<string, string> = {}): Promise<Answer<T>> {
  const headers = { "Content-Type": "application/json", "Idempotency-Key": key, ...more };
  return ask<T>(path, { method: "POST", headers, body: JSON.stringify(body) });
}

/// What is sent at most once and never again by itself: a question about what would be, signing in, invitations.
export function send_once<T>(method: "POST" | "DELETE", path: string, body?: unknown): Promise<Answer<T>> {
  if (body === undefined) return ask<T>(path, { method });
  return ask<T>(path, { method, headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) });
}

export function problem_code(problem: Problem): string {
  return problem.type.split("/").pop() ?? "";
}

/// Why an answer is not final: another attempt may succeed once there is a signal, or once this phone may write again. A
/// refusal by name is final.
export type Hold = "no_signal" | "not_signed_in" | "outside_hours";

export function hold_of(problem: Problem): Hold | null {
  if (problem.status === 401) return "not_signed_in";
  if (problem_code(problem) === "outside-hours") return "outside_hours";
  return problem.status >= 500 || problem.status === 429 || problem.status === 408 ? "no_signal" : null;
}
