// SPDX-License-Identifier: MIT
// What is typed into a form, kept when the form is left and when the tab is reloaded. The side, the time and that something
// came by another way than planned are not kept, nor why cells were changed: a form that is opened again asks for them again,
// unless it came back because it was refused.
import { useState } from "preact/hooks";
import { wall_text, wall_time } from "../time/zone";
import type { FormName, Intention } from "./intention";
import { kept_in_tab } from "./kept";

export type Draft = Record<string, string>;

interface Stored {
  draft: Draft;
  stored_ms: number;
  /// The key of the refused record that it is of.
  refused?: string | undefined;
}

const keep_ms = 15 * 60_000;
const asked_again: readonly string[] = ["side", "when", "other", "another_way", "reason"];

const name_of = (household: string, form: FormName): string => `draft:${household}:${form}`;

function stored_draft(household: string, form: FormName): Pick<Stored, "draft" | "refused"> {
  const stored = kept_in_tab.get<Stored>(name_of(household, form));
  if (!stored || Date.now() - stored.stored_ms > keep_ms) return { draft: {} };
  if (stored.refused) return stored;
  return { draft: Object.fromEntries(Object.entries(stored.draft).filter(([field]) => !asked_again.includes(field))) };
}

export function store_draft(household: string, form: FormName, draft: Draft | null, refused?: string): void {
  kept_in_tab.set(name_of(household, form), draft && { draft, stored_ms: Date.now(), refused });
}

/// What is kept of a refused record that was closed, or is sent again.
export function drop_draft(household: string, { form, key }: Intention): void {
  if (form && kept_in_tab.get<Stored>(name_of(household, form))?.refused === key) store_draft(household, form, null);
}

const untimed: readonly string[] = ["stock", "away", "visit", "message", "delivery"];

/// A refused "now" is no longer now: the form comes back with the time that was meant.
export function draft_again(intention: Intention, zone: string): Draft {
  const draft = { ...(intention.draft as Draft) };
  const at = intention.body["at"] ?? intention.body["from"];
  if (typeof at === "string" && !untimed.includes(intention.form ?? "stock")) return { ...draft, when: "other", other: wall_text(wall_time(new Date(at), zone)) };
  return draft;
}

interface Drafting {
  draft: Draft;
  /// The key of the refused record that it is of.
  refused: string | undefined;
  change: (part: Draft) => void;
  take_up: (draft: Draft, refused: string) => void;
}

export function useDraft(household: string, form: FormName, given: Draft): Drafting {
  const [{ draft, refused }, set] = useState<Pick<Stored, "draft" | "refused">>(() => {
    const stored = stored_draft(household, form);
    return { ...stored, draft: { ...stored.draft, ...given } };
  });
  const change = (part: Draft): void =>
    set((before) => {
      const after = { ...before, draft: { ...before.draft, ...part } };
      store_draft(household, form, after.draft, after.refused);
      return after;
    });
  const take_up = (draft: Draft, refused: string): void => {
    store_draft(household, form, draft, refused);
    set({ draft, refused });
  };
  return { draft, refused, change, take_up };
}
