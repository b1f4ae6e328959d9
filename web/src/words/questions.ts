// SPDX-License-Identifier: MIT
// What the page offers under each question of the service. The question's text is the service's own.
import { tell } from "./catalogue/first";

export type QuestionAct = "change" | "reading" | "settings" | "unit" | "end" | "unsure" | "same" | "different" | "still";

/// What is told once an answer is on its way.
export const answer_words: Partial<Record<QuestionAct, string>> = { same: tell("questions.one_change_not_two"), different: tell("questions.two_changes"), still: tell("questions.still_paced_more") };

export interface Offer {
  act: QuestionAct;
  words: string;
}

export const fresh_cells_words = tell("questions.i_have_put_in_fresh_cells");
export const unsure_words = tell("questions.then_the_earlier_date_stands_note");

const offers: Record<string, readonly Offer[]> = {
  were_cells_changed: [
    { act: "change", words: tell("questions.yes_they_were_changed") },
    { act: "reading", words: tell("questions.no_note_another_reading") },
    { act: "unsure", words: tell("questions.i_do_not_know") },
  ],
  was_it_changed: [
    { act: "change", words: tell("questions.yes_record_the_change") },
    { act: "reading", words: tell("questions.no_note_a_reading") },
  ],
  note_the_gauge: [{ act: "reading", words: tell("questions.note_a_reading") }],
  same_change_twice: [
    { act: "same", words: tell("questions.one_change") },
    { act: "different", words: tell("questions.two_changes") },
  ],
  which_cells: [{ act: "change", words: fresh_cells_words }],
  reading_is_low: [{ act: "reading", words: tell("questions.note_another_reading") }],
  a_reading_would_help: [{ act: "reading", words: tell("questions.note_a_reading") }],
  still_paced_more: [
    { act: "still", words: tell("questions.yes_still") },
    { act: "end", words: tell("questions.no_it_is_over") },
  ],
  which_settings: [{ act: "settings", words: tell("questions.record_the_settings") }],
  which_unit: [{ act: "unit", words: tell("questions.record_the_unit") }],
};

/// In a card that asks for a change its one button stands for it, and nothing may come before the change.
const left_to_the_card: readonly string[] = ["which_cells", "reading_is_low"];

/// That cells have no forecast is said by the side's limit already; and where something is to be done, what would only
/// help the forecast is not asked for.
export function is_shown(code: string, act: boolean): boolean {
  return code !== "wrong_cells" && !(act && code === "a_reading_would_help");
}

export const asks_since_when = (code: string): boolean => code === "were_cells_changed" || code === "was_it_changed";

export function offers_for(code: string, act = false): readonly Offer[] {
  return act && left_to_the_card.includes(code) ? [] : (offers[code] ?? []);
}
