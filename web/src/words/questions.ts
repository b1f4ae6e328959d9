// SPDX-License-Identifier: MIT
// What the page offers under each question of the service. The question's text is the service's own.

export type QuestionAct = "change" | "reading" | "same" | "different";

export interface Offer {
  act: QuestionAct;
  words: string;
}

const offers: Record<string, readonly Offer[]> = {
  were_cells_changed: [
    { act: "change", words: "Yes, they were changed" },
    { act: "reading", words: "No: note another reading" },
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
  which_cells: [{ act: "change", words: "Record fresh cells" }],
  wrong_cells: [{ act: "change", words: "Record fresh cells" }],
  reading_is_low: [{ act: "reading", words: "Note another reading" }],
};

export function offers_for(code: string): readonly Offer[] {
  return offers[code] ?? [];
}
