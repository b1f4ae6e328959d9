// SPDX-License-Identifier: MIT
// One value that parts of the page watch.
import { useEffect, useState } from "preact/hooks";

export class Store<T extends object> {
  private readonly watchers = new Set<() => void>();
  constructor(public value: T) {}

  set(change: Partial<T>): void {
    this.value = { ...this.value, ...change };
    this.watchers.forEach((watcher) => watcher());
  }

  watch(watcher: () => void): () => void {
    this.watchers.add(watcher);
    return () => this.watchers.delete(watcher);
  }
}

export function useStore<T extends object>(store: Store<T>): T {
  const [, redraw] = useState(0);
  useEffect(() => store.watch(() => redraw((n) => n + 1)), [store]);
  return store.value;
}
