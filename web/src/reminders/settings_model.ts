// SPDX-License-Identifier: MIT
// When this household is reminded, of what, in which words: a draft of plain strings, and the settings it stands for.
import type { About, ReminderSettings } from "../api/reminders";
import type { Draft } from "../state/draft";
import { tell } from "../words/catalogue/remind";

export function draft_of({ what, at, quiet, words, second_after_min }: ReminderSettings): Draft {
  return {
    what: what.join(" "), when: at ? "at" : "before", at: at ?? "18:00", quiet: quiet ? "yes" : "no", quiet_from: quiet?.from ?? "22:00", quiet_to: quiet?.to ?? "07:00",
    words, second: second_after_min === null ? "never" : String(second_after_min),
  };
}

const is_time = (text: string | undefined): text is string => /^\d\d:\d\d$/.test(text ?? "");

export function settings_of(draft: Draft): { errors: Record<string, string>; settings: ReminderSettings } {
  const errors: Record<string, string> = {};
  const { at, quiet_from, quiet_to } = draft;
  const quiet = draft.quiet === "yes";
  if (draft.when === "at" && !is_time(at)) errors.at = tell("remind.give_the_time");
  if (quiet && !is_time(quiet_from)) errors.quiet_from = tell("remind.give_the_time");
  if (quiet && !is_time(quiet_to)) errors.quiet_to = tell("remind.give_the_time");
  return {
    errors,
    settings: {
      what: (draft.what ?? "").split(" ").filter(Boolean) as About[], at: draft.when === "at" ? (at ?? null) : null,
      quiet: quiet ? { from: quiet_from ?? "", to: quiet_to ?? "" } : null, words: draft.words === "plain" ? "plain" : "neutral",
      second_after_min: draft.second === "never" ? null : Number(draft.second),
    },
  };
}
