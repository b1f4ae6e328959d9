// SPDX-License-Identifier: MIT
// Spans of pacing as they are typed in: kept in a draft as text, read into what is sent, and said in words.
import type { PacedSpan, Weekday } from "../api/types";
import { tell } from "../words/catalogue/plan";

export const weekdays: readonly { value: Weekday; words: string }[] = [
  { value: "mon", words: tell("spans.mo") }, { value: "tue", words: tell("spans.tu") }, { value: "wed", words: tell("spans.we") }, { value: "thu", words: tell("spans.th") },
  { value: "fri", words: tell("spans.fr") }, { value: "sat", words: tell("spans.sa") }, { value: "sun", words: tell("spans.su") },
];

export const most_spans = 6;
export const new_span: PacedSpan = { days: weekdays.map((day) => day.value), from: "", to: "" };

export function spans_of(text: string | undefined): PacedSpan[] {
  return text ? (JSON.parse(text) as PacedSpan[]) : [new_span];
}

/// A span to midnight ends at 24:00; the clock of a phone writes 00:00.
export const to_send = (span: PacedSpan): PacedSpan => ({ ...span, to: span.to === "00:00" ? "24:00" : span.to });
export const to_type = (span: PacedSpan): PacedSpan => ({ ...span, to: span.to === "24:00" ? "00:00" : span.to });

export function span_error({ days, from, to }: PacedSpan): string | null {
  if (!days.length) return tell("spans.choose_at_least_one_day");
  if (!from || !to) return tell("spans.give_the_time_it_begins_and");
  return from === to && from !== "00:00" ? tell("spans.it_begins_and_ends_at_the") : null;
}

function span_words(span: PacedSpan): string {
  const all = span.days.length === weekdays.length;
  const days = weekdays.filter((day) => span.days.includes(day.value)).map((day) => day.words);
  return tell("spans.to", { value: all ? tell("spans.every_day") : days.join(", "), from: span.from, to: to_send(span).to });
}

export function spans_words(spans: readonly PacedSpan[]): string {
  return spans.length ? tell("spans.paced", { value: spans.map(span_words).join("; ") }) : tell("spans.paced_all_day");
}
