// SPDX-License-Identifier: MIT
// The language in which the pages speak: the one chosen on this phone, else the first of the phone's own that there is.
// English comes with each part of the pages; the others are fetched before anything is shown.
import type { Problem } from "../api/types";
import { kept } from "../state/kept";
import type { Message } from "./tell";

export type Language = "en" | "es";
export type Catalogue = Record<string, Record<string, Message>>;

/// Each by its own name, as whoever speaks it looks for it.
export const languages: readonly { value: Language; words: string; lang: string }[] = [
  { value: "en", words: "English", lang: "en" },
  { value: "es", words: "Español", lang: "es" },
];

let current: Language = "en";
let translated: Catalogue | null = null;
let tell_again: Omit<Speech, "catalogue"> | null = null;

export const language = (): Language => current;

/// For Intl: days before months, clocks of 24 hours.
export const locale = (): string => (current === "es" ? "es" : "en-GB");

export const translation = (section: string, key: string): Message | undefined => translated?.[section]?.[key];

/// What a language has besides its words. A gap that says what goes before it ("{de:when}") is joined to that.
export interface Grammar {
  joined: (before: string, value: string) => string;
  decimal_sign: string;
  sides: Record<string, string>;
}

/// What another language brings: its catalogue, and how the service's English sentences are told in it.
export interface Speech {
  catalogue: Catalogue;
  told_document: <T>(document: T) => T;
  told_problem: (problem: Problem) => Problem;
  grammar?: Grammar;
}

export function speak(chosen: Language, speech: Speech | null): void {
  current = speech ? chosen : "en";
  translated = speech?.catalogue ?? null;
  tell_again = speech;
}

export const grammar = (): Grammar | undefined => tell_again?.grammar;

/// Words of pages that come later than the first ones.
export function add_words(more: Catalogue): void {
  translated = { ...translated, ...more };
}

/// A document of the service in the language of the page.
export const in_our_language = <T>(document: T): T => (tell_again ? tell_again.told_document(document) : document);

export const refused_in_our_language = (problem: Problem): Problem => (tell_again ? tell_again.told_problem(problem) : problem);

function is_language(name: string): name is Language {
  return languages.some(({ value }) => value === name);
}

export function wanted_language(chosen: string | null, of_the_phone: readonly string[]): Language {
  if (chosen && is_language(chosen)) return chosen;
  return of_the_phone.map((name) => name.slice(0, 2).toLowerCase()).find(is_language) ?? "en";
}

/// Where the other language cannot be fetched the pages speak English rather than nothing.
export async function choose_language(): Promise<void> {
  const wanted = wanted_language(kept.get("language"), navigator.languages);
  if (wanted !== "en") speak(wanted, await import("./catalogue/es").catch(() => null));
  document.documentElement.lang = current;
}

/// The words of a page that is open were made in the other language: it is opened anew.
export function set_language(chosen: string): void {
  kept.set("language", chosen);
  window.location.reload();
}
