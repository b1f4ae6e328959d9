// SPDX-License-Identifier: MIT
// The four phrases are all a page may say of a side's cells. `phrases.json` is the table: the words, the limit up
// to which they hold, and whether they ask for an act. The service's own sentence and limit are shown; the table
// stands in where one is missing, and a phrase that is not in the table reads as "No forecast."
import type { PhraseCode, SideForecast } from "../api/types";
import { translation } from "./language";
import table from "./phrases.json";
import { fill } from "./tell";

export interface Phrase {
  words: string;
  limit: string;
  act: boolean;
}

export const phrases: Record<PhraseCode, Phrase> = table;

/// The table's words, or the same in the language of the page.
function in_words(code: PhraseCode): Phrase {
  const own = (what: "words" | "limit"): string => {
    const told = translation("phrases", `${code}.${what}`);
    return typeof told === "string" ? told : phrases[code][what];
  };
  return { ...phrases[code], words: own("words"), limit: own("limit") };
}

/// A limit whose time is not known is left out rather than shown with a hole.
function own_limit(limit: string, change_by: string | null): string {
  if (!limit.includes("change_by}")) return limit;
  return change_by ? fill(limit, { change_by }) : "";
}

export function phrase_of(side: SideForecast, change_by: string | null = null): Phrase & { code: PhraseCode } {
  const code: PhraseCode = side.phrase in phrases ? side.phrase : "no_forecast";
  const known = in_words(code);
  const trusted = code === side.phrase;
  return {
    code,
    act: known.act,
    words: (trusted && side.sentence) || known.words,
    limit: (trusted && side.limit) || own_limit(known.limit, change_by),
  };
}
