// SPDX-License-Identifier: MIT
// A part of the pages that comes in a file of its own: fetched when it is first needed, or before that when the phone
// has nothing else to do, so that it opens without a signal too.

export class Part<T> {
  got: T | null = null;
  constructor(private readonly fetch: () => Promise<T>) {}

  async load(): Promise<T> {
    this.got ??= await this.fetch();
    return this.got;
  }
}

const pause_ms = 3_000;

export function fetch_when_idle(parts: Part<unknown>[]): void {
  const fetch_all = (): void => parts.forEach((part) => void part.load().catch(() => undefined));
  if ("requestIdleCallback" in window) requestIdleCallback(fetch_all, { timeout: pause_ms });
  else setTimeout(fetch_all, pause_ms);
}
