// SPDX-License-Identifier: MIT
// A square code drawn from the service's rows, dark on light whatever the page's colours, with the margin of four modules
// that ISO/IEC 18004 asks for.

const margin = 4;

export function QrCode({ rows, words }: { rows: string[]; words: string }) {
  const size = rows.length + 2 * margin;
  const dark = rows.flatMap((row, y) =>
    [...row.matchAll(/1+/g)].map((run) => `M${run.index + margin} ${y + margin}h${run[0].length}v1h-${run[0].length}z`),
  );
  return (
    <svg class="qr" viewBox={`0 0 ${size} ${size}`} role="img" aria-label={words} shape-rendering="crispEdges">
      <path class="light" d={`M0 0h${size}v${size}h-${size}z`} />
      <path class="dark" d={dark.join("")} />
    </svg>
  );
}
