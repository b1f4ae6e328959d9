// SPDX-License-Identifier: MIT
// How its sets lasted against what was expected of them: a point with how sure it is, on a line whose middle is "as
// expected".
import type { LotDocument } from "../lot_types";

const width = 420;
const height = 74;
const low = 0.5;
const high = 1.3;
const x_of = (ratio: number): number => 10 + ((Math.min(Math.max(ratio, low), high) - low) / (high - low)) * (width - 20);
const percent = (ratio: number): string => `${Math.round(ratio * 100)} %`;

export function HowItDid({ did }: { did: LotDocument["did"] }) {
  const { ratio } = did;
  return (
    <section aria-labelledby="did-name">
      <h2 id="did-name">How it did</h2>
      <p>{did.sentence}</p>
      {ratio && (
        <svg class="drawing" viewBox={`0 0 ${width} ${height}`} role="img" aria-label={`Life against the life expected: ${percent(ratio.p50)}, between ${percent(ratio.p05)} and ${percent(ratio.p95)}.`}>
          <path class="axis" d={`M10 40H${width - 10}`} />
          <path class="rule" d={`M${x_of(1)} 12V52`} />
          <path class="sure" d={`M${x_of(ratio.p05)} 34H${x_of(ratio.p95)}V46H${x_of(ratio.p05)}Z`} />
          <circle class="seen" cx={x_of(ratio.p50)} cy="40" r="6" />
          <text x={x_of(1)} y="68" text-anchor="middle">as expected</text>
          <text x={x_of(ratio.p50)} y="24" text-anchor="middle">{percent(ratio.p50)}</text>
        </svg>
      )}
      <p class="small">{did.limit}</p>
    </section>
  );
}
