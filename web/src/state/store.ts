// SPDX-License-Identifier: MIT
// One value that parts of the page watch. They hear of it in the next task, so that what changes together is drawn once.
import { useEffect, useRef, useState } from "preact/hooks";

export class Store<T extends object> {
  private readonly watchers = new Set<() => void>();
  private telling = false;
  constructor(public value: T) {}

  set(change: Partial<T>): void {
    this.value = { ...this.value, ...change };
    if (this.telling) return;
    this.telling = true;
    setTimeout(() => {
      this.telling = false;
      this.watchers.forEach((watcher) => watcher());
    });
  }

  watch(watcher: () => void): () => void {
    this.watchers.add(watcher);
    return () => this.watchers.delete(watcher);
  }
}

export function useStore<T extends object>(store: Store<T>): T {
  const [, redraw] = useState(0);
  const drawn = useRef(store.value);
  drawn.current = store.value;
  useEffect(() => {
    const look = (): void => {
      if (drawn.current !== store.value) redraw((n) => n + 1);  // else it was drawn already, for another reason
    };
    look();  // it may have changed before this watched
    return store.watch(look);
  }, [store]);
  return store.value;
}
