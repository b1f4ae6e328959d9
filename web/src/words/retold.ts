// SPDX-License-Identifier: MIT
// A sentence of the service told again in the language that is spoken: it is read by its form ("Change by {when}."), and what
// stands in its gaps is told too.
import { calendar_words } from "./days";
import { translation } from "./language";
import { fill, number_words, type Message, type Values } from "./tell";

const english_days = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];
const english_months = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
const date_form = "\\w{3} \\d{1,2} \\w{3}(?: \\d{4})?";

/// What may stand in a gap, by its name; a further one of its kind is called "when_2".
const forms: Record<string, string> = {
  side: "left|right", Side: "Left|Right", Sides: "Left|Right|Left and right", number: "-?\\d+(?:\\.\\d+)?", faster: "\\d+ % (?:faster|slower)",
  when: `\\d\\d:\\d\\d(?: today| tomorrow| yesterday)?|${date_form}(?:, \\d\\d:\\d\\d)?`, pieces: "\\d+ [a-z_ ]+", item: "[a-z_ ]+",
  clock: "\\d\\d:\\d\\d", weekday: "\\w+day",
  found: "(?:left|right) (?:as before|fresh|not known)",
  on: "| on both sides| on the left side| on the right side", more: "as expected|\\d+(?:\\.\\d+)? % (?:more|less)", odds: "(?:less than |more than )?\\d+ in 100",
  packs: "\\d+ packs? of [a-z_ ]+(?:, \\d+ packs? of [a-z_ ]+)*",
  many: "\\d+ (?:planned )?(?:set|home|change)s?", percent: "-?\\d+(?:\\.\\d+)?",
};

function word(key: string): string {
  const message: Message | undefined = translation("service_words", key) ?? translation("service_bench_words", key);
  return typeof message === "string" ? message : key;
}

function day_words(text: string): string {
  const [weekday = "", day = "", month = "", year] = text.split(" ");
  const words = calendar_words((english_days.indexOf(weekday) + 1) % 7, Number(day), english_months.indexOf(month) + 1);
  return year ? `${words} ${year}` : words;
}

function when_words(text: string): string {
  const [clock = "", near] = text.split(" ");
  if (/^\d\d:\d\d$/.test(clock)) return near ? `${word(near)} ${clock}` : clock;
  const [day = "", time] = text.split(", ");
  return time ? `${day_words(day)}, ${time}` : day_words(day);
}

function pieces_words(text: string): string {
  const [count = "", ...thing] = text.split(" ");
  const item = thing.join(" ").replace(/s?$/, "");
  const message = ["cells", "antennas", "dressings", "tape"].map((one) => (one.replace(/s$/, "") === item ? translation("first", `names.count_${one}`) : null)).find(Boolean);
  return message ? fill(message, { count: Number(count) }) : text;
}

/// "2 packs of tape, 1 pack of cells": an item by the name that it has in a sentence.
function packs_words(text: string): string {
  return text.replace(/(packs? of) ([a-z_ ]+)/g, (_, packs: string, item: string) => `${word(packs)} ${word(item)}`);
}

/// "3 sets": by the plural that the bench has for it.
function many_words(text: string): string {
  const [count = "", ...thing] = text.split(" ");
  const message = translation("bench", `bench.count_${thing.join("_").replace(/s$/, "")}`);
  return message ? fill(message, { count: Number(count) }) : text;
}

function odds_told(text: string): string {
  return text.replace(/^(less than |more than )?(\d+) (in 100)$/, (_, than: string | undefined, of: string, hundred: string) => `${than ? `${word(than.trim())} ` : ""}${of} ${word(hundred)}`);
}

function value_words(kind: string, text: string): string | number {
  if (kind === "on") return text && ` ${word(text.trim())}`;
  if (kind === "packs") return packs_words(text);
  if (kind === "many") return many_words(text);
  if (kind === "odds") return odds_told(text);
  if (kind === "percent") return Number(text);
  if (kind === "more") return text.replace(/^([\d.]+) % (\w+)$/, (_, of: string, how: string) => `${number_words(Number(of))} % ${word(how)}`).replace("as expected", word("as expected"));
  if (kind === "when") return when_words(text);
  if (kind === "number") return Number(text);
  if (kind === "pieces") return pieces_words(text);
  if (["side", "text", "lot", "serial", "clock"].includes(kind)) return text;
  if (kind === "faster") return text.split(" ").map(word).join(" ");
  if (kind === "found") return text.replace(/^(\w+) (.+)$/, (_, side: string, how: string) => `${word(side)} ${word(how)}`);
  return word(text);
}

interface Form {
  key: string;
  pattern: RegExp;
  gaps: string[];
}

const kind_of = (gap: string): string => gap.replace(/_\d$/, "");

function form_of([key, message]: [string, string]): Form {
  const gaps: string[] = [];
  const source = message.replace(/[.?*+^$()[\]\\|]/g, "\\$&").replace(/\{(\w+)\}/g, (_, gap: string) => {
    gaps.push(gap);
    return `(${forms[kind_of(gap)] ?? "[^.?]+?"})`;
  });
  return { key, pattern: new RegExp(`^${source}$`), gaps };
}

const made = new Map<Record<string, string>, Form[]>();

/// By the forms of `english`, whose other words stand in `section` of the catalogue. Null: none of them fits.
export function retold(section: string, english: Record<string, string>, text: string): string | null {
  const all = made.get(english) ?? Object.entries(english).map(form_of);
  made.set(english, all);
  for (const { key, pattern, gaps } of all) {
    const found = pattern.exec(text);
    const message = found && translation(section, key);
    if (!found || !message) continue;
    const values: Values = Object.fromEntries(gaps.map((gap, index) => [gap, value_words(kind_of(gap), found[index + 1] ?? "")]));
    return fill(message, values);
  }
  return null;
}

export const sentences_of = (text: string): string[] => text.split(/(?<=[.?]) (?=[A-Z0-9])/);
