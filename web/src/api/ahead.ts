// SPDX-License-Identifier: MIT
// What a household's page asks for first is asked while the page's own part is still on its way: on a slow line that is a
// round trip less before the first sentence. Each answer is taken once; whatever asks again asks anew.
export const base = "/api/v1";
export const patience_ms = 15_000;

/// The browser keeps the entity tag: an unchanged document costs a 304.
export const reading: RequestInit = { cache: "no-cache", headers: { Accept: "application/json" } };

export function household_path(household: string): string {
  return `/households/${encodeURIComponent(household)}`;
}

/// The household at an address of the pages.
export function household_at(path: string): string | null {
  const match = /^\/h\/([^/]+)\/?$/.exec(path);
  return match?.[1] ? decodeURIComponent(match[1]) : null;
}

const on_the_way = new Map<string, Promise<Response>>();

function ask_ahead(path: string): void {
  const stop = new AbortController();
  setTimeout(() => stop.abort(), patience_ms);
  const answer = fetch(base + path, { ...reading, signal: stop.signal });
  answer.catch(() => undefined);  // whoever takes it hears that there is no signal
  on_the_way.set(path, answer);
}

export function ask_for_household(name: string): void {
  [household_path(name), `${household_path(name)}/forecast`, `${household_path(name)}/messages`].forEach(ask_ahead);
}

export function taken(path: string): Promise<Response> | undefined {
  const answer = on_the_way.get(path);
  on_the_way.delete(path);
  return answer;
}
