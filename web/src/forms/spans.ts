// SPDX-License-Identifier: MIT
// Spans of pacing as they are typed in: kept in a draft as text, read into what is sent, and said in words.
import type { PacedSpan, Weekday } from "../api/types";

export const weekdays: readonly { value: Weekday; words: string }[] = [
  { value: "mon", words: "Mo" }, { value: "tue", words: "Tu" }, { value: "wed", words: "We" }, { value: "thu", words: "Th" },
  { value: "fri", words: "Fr" }, { value: "sat", words: "Sa" }, { value: "sun", words: "Su" },
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
  if (!days.length) return "Choose at least one day.";
  if (!from || !to) return "Give the time it begins and the time it ends.";
  return from === to && from !== "00:00" ? "It begins and ends at the same time." : null;
}

function span_words(span: PacedSpan): string {
  const all = span.days.length === weekdays.length;
  const days = weekdays.filter((day) => span.days.includes(day.value)).map((day) => day.words);
  return `${all ? "every day" : days.join(", ")} ${span.from} to ${to_send(span).to}`;
}

export function spans_words(spans: readonly PacedSpan[]): string {
  return spans.length ? `paced ${spans.map(span_words).join("; ")}` : "paced all day";
}
