// SPDX-License-Identifier: MIT
// What is typed into a form, kept when the form is left and when the tab is reloaded. The side, the time and that something
// came by another way than planned are not kept: a form that is opened again asks for them again, unless it came back because
// it was refused.
import { useState } from "preact/hooks";
import type { FormName } from "./intention";
import { kept_in_tab } from "./kept";

export type Draft = Record<string, string>;

interface Stored {
  draft: Draft;
  stored_ms: number;
  refused: boolean;
}

const keep_ms = 15 * 60_000;

const name_of = (household: string, form: FormName): string => `draft:${household}:${form}`;

function stored_draft(household: string, form: FormName): Draft {
  const stored = kept_in_tab.get<Stored>(name_of(household, form));
  if (!stored || Date.now() - stored.stored_ms > keep_ms) return {};
  if (stored.refused) return stored.draft;
  const { side: _side, when: _when, other: _other, another_way: _another_way, ...typed } = stored.draft;
  return typed;
}

export function store_draft(household: string, form: FormName, draft: Draft | null, refused = false): void {
  kept_in_tab.set(name_of(household, form), draft && { draft, stored_ms: Date.now(), refused });
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
