// SPDX-License-Identifier: MIT
// What the three drawings of a side's history show, as columns: sets in the order in which they came out.
import type { FinishedSet, Mark, SideHistory } from "./api";
import { mark_words } from "./words";

export interface MarkAt {
  /// Seconds, as uPlot counts: when it happened, a change of settings in the middle of a set too.
  at: number;
  words: string;
}

type Column = (number | null)[];

export interface SidePoints {
  at: number[];
  seen: Column;
  seen_low: Column;
  seen_high: Column;
  expected: Column;
  expected_low: Column;
  expected_high: Column;
  ewma: Column;
  ewma_lower: Column;
  ewma_upper: Column;
  cusum_high: Column;
  /// Below nought, so that both run on one drawing.
  cusum_low: Column;
  cusum_limit: Column;
  ewma_signal: boolean[];
  cusum_signal: boolean[];
  marks: MarkAt[];
  first: number;
}

const seconds = (at: string): number => Date.parse(at) / 1000;

function marks_of(sets: readonly FinishedSet[]): MarkAt[] {
  return sets.flatMap((one) => [
    ...(one.marks.length > 0 ? [{ at: seconds(one.from), words: one.marks.map((mark: Mark) => mark_words[mark]).join(", ") }] : []),
    ...one.settings_changed.map(({ at }) => ({ at: seconds(at), words: mark_words.settings })),
  ]);
}

export function points_of({ sets }: Pick<SideHistory, "sets">): SidePoints {
  const sorted = [...sets].sort((a, b) => seconds(a.to) - seconds(b.to));
  const column = (value: (one: FinishedSet) => number | null | undefined): Column => sorted.map((one) => value(one) ?? null);
  return {
    at: sorted.map((one) => seconds(one.to)),
    seen: column((one) => one.observed?.more_percent),
    seen_low: column((one) => one.observed?.low_percent),
    seen_high: column((one) => one.observed?.high_percent),
    expected: column((one) => one.chart?.expected_percent),
    expected_low: column((one) => one.chart?.expected_low_percent),
    expected_high: column((one) => one.chart?.expected_high_percent),
    ewma: column((one) => one.chart?.ewma.value),
    ewma_lower: column((one) => one.chart?.ewma.lower),
    ewma_upper: column((one) => one.chart?.ewma.upper),
    cusum_high: column((one) => one.chart?.cusum.high),
    cusum_low: column((one) => (one.chart ? -one.chart.cusum.low : null)),
    cusum_limit: column((one) => one.chart?.cusum.limit),
    ewma_signal: sorted.map((one) => one.chart?.ewma.signal ?? false),
    cusum_signal: sorted.map((one) => one.chart?.cusum.signal ?? false),
    marks: marks_of(sorted),
    first: sorted[0] ? seconds(sorted[0].from) : 0,
  };
}

/// Steps of 1, 2 or 5 times a power of ten, so that at most `most` of them fit between the ends; nought is one of them.
export function even_steps(low: number, high: number, most = 5): number[] {
  const rough = Math.max(high - low, 1e-9) / most;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = power * ([1, 2, 5, 10].find((one) => one * power >= rough - 1e-12) ?? 10);
  const found: number[] = [];
  for (let n = Math.ceil(low / step - 1e-9); n * step <= high + 1e-9; n++) found.push(Math.round(n * step * 1e6) / 1e6 + 0);
  return found;
}

/// The ends of all columns, with a tenth of room beyond them and nought within.
export function ends_of(columns: readonly Column[]): { low: number; high: number } {
  const all = columns.flat().filter((one): one is number => one !== null);
  const low = Math.min(0, ...all);
  const high = Math.max(0, ...all);
  const room = Math.max(high - low, 1) * 0.12;
  return { low: low - room, high: high + room };
}
