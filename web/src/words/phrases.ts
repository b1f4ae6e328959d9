// SPDX-License-Identifier: MIT
// The four phrases are all a page may say of a side's cells. `phrases.json` is the table: the words, the limit
// (what the phrase does not claim), and whether it asks for an act. A phrase not in it reads as "No forecast."
import type { PhraseCode, SideForecast } from "../api/types";
import table from "./phrases.json";

export interface Phrase {
  words: string;
  limit: string;
  act: boolean;
}

export const phrases: Record<PhraseCode, Phrase> = table;

export function phrase_of(side: SideForecast): Phrase & { code: PhraseCode } {
  const code: PhraseCode = side.phrase in phrases ? side.phrase : "no_forecast";
  const known = phrases[code];
  const trusted = code === side.phrase;
  return {
    code,
    act: known.act,
    words: (trusted && side.sentence) || known.words,
    limit: (trusted && side.limit) || known.limit,
  };
}
