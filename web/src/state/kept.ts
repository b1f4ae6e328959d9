// SPDX-License-Identifier: MIT
// What this phone keeps for itself. A browser may forbid it; then it is only forgotten sooner.

function read(store: () => Storage, name: string): string | null {
  try {
    return store().getItem(`cellarer:${name}`);
  } catch {
    return null;
  }
}

function write(store: () => Storage, name: string, text: string | null): void {
  try {
    if (text === null) store().removeItem(`cellarer:${name}`);
    else store().setItem(`cellarer:${name}`, text);
  } catch {
    // Nothing to do: the page works without.
  }
}

const here = (): Storage => window.localStorage;
const this_tab = (): Storage => window.sessionStorage;

export const kept = {
  get: (name: string): string | null => read(here, name),
  set: (name: string, text: string | null): void => write(here, name, text),
};

/// Kept while the tab is open, so that a reload loses nothing that was typed or is on its way.
export const kept_in_tab = {
  get<T>(name: string): T | null {
    const text = read(this_tab, name);
    try {
      return text === null ? null : (JSON.parse(text) as T);
    } catch {
      return null;
    }
  },
  set: (name: string, value: unknown): void => write(this_tab, name, value === null ? null : JSON.stringify(value)),
};

/// Signing out: drafts go. How the page looks stays, and whom to call when something is wrong.
export function forget_drafts(): void {
  try {
    window.sessionStorage.clear();
  } catch {
    // Nothing is kept where nothing may be.
  }
}
