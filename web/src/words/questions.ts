// SPDX-License-Identifier: MIT
// What the page offers under each question of the service. The question's text is the service's own.

export type QuestionAct = "change" | "reading" | "settings" | "unit" | "end" | "unsure" | "same" | "different" | "still";

/// What is told once an answer is on its way.
export const answer_words: Partial<Record<QuestionAct, string>> = { same: "One change, not two", different: "Two changes", still: "Still paced more" };

export interface Offer {
  act: QuestionAct;
  words: string;
}

export const fresh_cells_words = "I have put in fresh cells";
export const unsure_words = "Then the earlier date stands. Note the gauge again this evening.";

const offers: Record<string, readonly Offer[]> = {
  were_cells_changed: [
    { act: "change", words: "Yes, they were changed" },
    { act: "reading", words: "No: note another reading" },
    { act: "unsure", words: "I do not know" },
  ],
  was_it_changed: [
    { act: "change", words: "Yes, record the change" },
    { act: "reading", words: "No: note a reading" },
  ],
  note_the_gauge: [{ act: "reading", words: "Note a reading" }],
  same_change_twice: [
    { act: "same", words: "One change" },
    { act: "different", words: "Two changes" },
  ],
  which_cells: [{ act: "change", words: fresh_cells_words }],
  reading_is_low: [{ act: "reading", words: "Note another reading" }],
  a_reading_would_help: [{ act: "reading", words: "Note a reading" }],
  still_paced_more: [
    { act: "still", words: "Yes, still" },
    { act: "end", words: "No, it is over" },
  ],
  which_settings: [{ act: "settings", words: "Record the settings" }],
  which_unit: [{ act: "unit", words: "Record the unit" }],
};

/// In a card that asks for a change its one button stands for it, and nothing may come before the change.
const left_to_the_card: readonly string[] = ["which_cells", "reading_is_low"];

/// That cells have no forecast is said by the side's limit already; and where something is to be done, what would only
/// help the forecast is not asked for.
export function is_shown(code: string, act: boolean): boolean {
  return code !== "wrong_cells" && !(act && code === "a_reading_would_help");
}

export function offers_for(code: string, act = false): readonly Offer[] {
  return act && left_to_the_card.includes(code) ? [] : (offers[code] ?? []);
}
