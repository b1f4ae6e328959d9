// SPDX-License-Identifier: MIT
// New settings beside those recorded, and whether they lie within what the unit's profile has. Neither is judged: beyond
// the range the form asks whether they were typed as they were given.
import type { Settings, SettingsRange } from "../api/types";
import type { Draft } from "../state/draft";
import { tell } from "../words/catalogue/plan";
import { read_number } from "./reading_model";
import { spans_of, spans_words } from "./spans";

export interface Line {
  what: string;
  old: string;
  new: string;
}

const shown = (value: number | null | undefined): string => (value === null || value === undefined ? "–" : String(value));

/// The typed inspiration as a part of the breath, whichever way it was given.
function fraction_of(draft: Draft): number | null {
  const typed = read_number(draft.inspiration);
  const rate = read_number(draft.rate);
  if (typed === null || draft.breath !== "time") return typed;
  return rate === null ? null : Math.round((1000 * typed * rate) / 60) / 1000;
}

export function old_beside_new(recorded: Settings | null | undefined, draft: Draft): Line[] {
  if (!recorded) return [];
  return [
    { what: tell("range.rate"), old: shown(recorded.rate_per_min), new: shown(read_number(draft.rate)) },
    { what: tell("range.fraction"), old: shown(recorded.inspiratory_fraction), new: shown(fraction_of(draft)) },
    { what: tell("range.amplitude"), old: shown(recorded.amplitude), new: shown(read_number(draft.amplitude)) },
    { what: tell("range.paced"), old: spans_words(recorded.paced), new: draft.paced === "all_day" ? spans_words([]) : draft.paced === "spans" ? spans_words(spans_of(draft.spans)) : "–" },
  ];
}

export function beyond_range(range: SettingsRange | null, draft: Draft): string[] {
  if (!range) return [];
  const values = [["rate_per_min", tell("range.rate"), read_number(draft.rate)], ["inspiratory_fraction", tell("range.fraction"), fraction_of(draft)], ["amplitude", tell("range.amplitude"), read_number(draft.amplitude)]] as const;
  return values.flatMap(([name, what, value]) => {
    const within = range[name];
    return within && value !== null && (value < within[0] || value > within[1]) ? [tell("range.beyond", { what, value, from: within[0], to: within[1] })] : [];
  });
}
