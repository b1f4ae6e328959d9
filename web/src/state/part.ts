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

const when_idle = (work: () => void): void => {
  if ("requestIdleCallback" in window) requestIdleCallback(work, { timeout: pause_ms });
  else setTimeout(work, pause_ms);
};

/// One after the other, the most needed first, so that a finger never waits for all of them.
export function fetch_when_idle([first, ...others]: Part<unknown>[]): void {
  if (!first) return;
  const go_on = (): void => fetch_when_idle(others);
  when_idle(() => void first.load().then(go_on, go_on));
}
