// SPDX-License-Identifier: MIT
// What is typed into a form, kept when the form is left and when the tab is reloaded.
import { useState } from "preact/hooks";
import type { FormName } from "./intention";
import { kept_in_tab } from "./kept";

export type Draft = Record<string, string>;

export function stored_draft(household: string, form: FormName): Draft | null {
  return kept_in_tab.get<Draft>(`draft:${household}:${form}`);
}

export function store_draft(household: string, form: FormName, draft: Draft | null): void {
  kept_in_tab.set(`draft:${household}:${form}`, draft);
}

export function useDraft(household: string, form: FormName, given: Draft): [Draft, (change: Draft) => void] {
  const [draft, set] = useState<Draft>(() => ({ ...stored_draft(household, form), ...given }));
  const change = (part: Draft): void =>
    set((before) => {
      const after = { ...before, ...part };
      store_draft(household, form, after);
      return after;
    });
  return [draft, change];
}
