// SPDX-License-Identifier: MIT
// What is typed into a long form stays while the tab is open, so that a look elsewhere loses nothing.
import { useState } from "preact/hooks";
import { kept_in_tab } from "../state/kept";

export function useKeptForm<T extends object>(name: string, empty: T): { form: T; set: (change: Partial<T>) => void; forget: () => void } {
  const key = `bench:${name}`;
  const [form, set_form] = useState<T>(() => ({ ...empty, ...(kept_in_tab.get<Partial<T>>(key) ?? {}) }));
  const set = (change: Partial<T>): void =>
    set_form((before) => {
      const after = { ...before, ...change };
      kept_in_tab.set(key, after);
      return after;
    });
  const forget = (): void => {
    kept_in_tab.set(key, null);
    set_form(empty);
  };
  return { form, set, forget };
}
