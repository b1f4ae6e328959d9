// SPDX-License-Identifier: MIT
// A reminder in the language in which this phone's pages speak. The service worker has no more of the catalogue than this.
import english from "../words/catalogue/en/service_push.json";
import days from "../words/catalogue/es/days.json";
import service_push from "../words/catalogue/es/service_push.json";
import service_words from "../words/catalogue/es/service_words.json";
import { speak, wanted_language, type Catalogue, type Grammar, type Language } from "../words/language";
import { retold, sentences_of } from "../words/retold";
import { spanish_grammar as grammar } from "../words/spanish";

const speeches: Partial<Record<Language, { catalogue: Catalogue; grammar: Grammar }>> = { es: { catalogue: { days, service_push, service_words }, grammar } };

export function told_on_this_phone(text: string, chosen: string | null, of_the_phone: readonly string[]): string {
  const language = wanted_language(chosen, of_the_phone);
  const speech = speeches[language];
  if (!speech) return text;
  speak(language, { ...speech, told_document: (document) => document, told_problem: (problem) => problem });
  return sentences_of(text).map((sentence) => retold("service_push", english, sentence) ?? sentence).join(" ");
}
