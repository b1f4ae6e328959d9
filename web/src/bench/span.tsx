// SPDX-License-Identifier: MIT
// A range on a rule: a band for how sure, a stroke of ink for the best estimate, a hair where nothing is out of the
// ordinary. The words beside it say the same; a screen reader hears those.

interface Props {
  low: number | null;
  best: number | null;
  high: number | null;
  /// What the rule runs over; all rows of a table share it, so that they can be compared by eye.
  from: number;
  to: number;
  zero?: number | null;
  /// The end beyond `best` is not known: the band fades there.
  wide?: boolean;
}

const width = 120;
const height = 24;

export function Span({ low, best, high, from, to, zero = 0, wide = false }: Props) {
  const at = (value: number): number => 2 + ((Math.min(Math.max(value, from), to) - from) / (to - from)) * (width - 4);
  return (
    <svg class={wide ? "span-rule wide" : "span-rule"} viewBox={`0 0 ${width} ${height}`} preserveAspectRatio="none" aria-hidden="true">
      <path class="rule" d={`M2 ${height - 3}H${width - 2}`} />
      {zero !== null && <path class="zero" d={`M${at(zero)} 2V${height - 1}`} />}
      {low !== null && high !== null && <rect class="how-sure" x={at(low)} y="6" width={Math.max(at(high) - at(low), 2)} height="12" />}
      {best !== null && <path class="best" d={`M${at(best)} 3V${height - 3}`} />}
    </svg>
  );
}

/// The rule that all these fit on, in steps of 10 %, nought always on it.
export function rule_of(rows: readonly { low_percent: number | null; high_percent: number | null }[], least = 20): { from: number; to: number } {
  const ends = rows.flatMap(({ low_percent, high_percent }) => [low_percent ?? 0, high_percent ?? 0]);
  const round = (value: number): number => Math.ceil(value / 10) * 10;
  return { from: -Math.min(round(Math.max(0, ...ends.map((one) => -one), least / 2)), 60), to: Math.min(round(Math.max(0, ...ends, least)), 100) };
}
