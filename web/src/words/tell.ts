// SPDX-License-Identifier: MIT
// Every sentence of the pages stands in a catalogue under a key; here it is taken out and its gaps are filled. A message
// with "one" and "other" is chosen by the number `count`, after the plural rules of its language.
import { once_a_locale } from "../time/formats";
import { grammar, locale, translation } from "./language";

export type Message = string | { one: string; other: string };
export type Values = Record<string, string | number | null | undefined>;

const plural_rules = once_a_locale((locale) => new Intl.PluralRules(locale));

function form_of(message: Message, count: unknown): string {
  if (typeof message === "string") return message;
  return plural_rules(locale()).select(Number(count)) === "one" ? message.one : message.other;
}

/// A format of Intl costs a phone a long moment, and these languages differ in one sign.
export function number_words(value: number): string {
  return String(Math.round(value * 1e6) / 1e6).replace(".", grammar()?.decimal_sign ?? ".");
}

/// A side goes into a sentence by its code.
function value_words(value: string | number | null | undefined): string {
  if (typeof value === "number") return number_words(value);
  return grammar()?.sides[value ?? ""] ?? value ?? "";
}

export function fill(message: Message, values: Values): string {
  const form = form_of(message, values["count"]);
  if (!form.includes("{")) return form;
  return form.replace(/\{(?:(\w+):)?(\w+)\}/g, (_, before: string | undefined, name: string) => {
    const words = value_words(values[name]);
    return before ? (grammar()?.joined(before, words) ?? words) : words;
  });
}

export type Tell<Key extends string> = (key: Key, values?: Values) => string;

/// What tells the sentences of one part of the pages, which brings their English with it.
export function teller<English extends Record<string, Message>>(section: string, english: English): Tell<keyof English & string> {
  return (key, values = {}) => fill(translation(section, key) ?? (english[key] as Message), values);
}
