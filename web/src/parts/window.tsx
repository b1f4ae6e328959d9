// SPDX-License-Identifier: MIT
// One night as a window of the house. Lit: expected to last it. Half dark on the diagonal: doubtful. Dashed with a
// cross: not expected. Tonight has the heavy frame. A left window has its round corner on the left, a right one on
// the right. Shape alone tells all of it, so it reads in greyscale at 24 px.
import type { Side, WindowState } from "../api/types";

interface Props {
  side: Side;
  state: WindowState;
  tonight?: boolean;
}

const outline = "M3 25V13A10 10 0 0 1 13 3H21V25Z";

const glass = {
  expected: (
    <>
      <path class="lamp" d={outline} />
      <path class="bars" d="M12.5 3V25M3 14.5H21" />
      <path class="frame" d={outline} />
    </>
  ),
  doubtful: (
    <>
      <path class="dark" d={outline} />
      <path class="lamp" d="M3 25V13A10 10 0 0 1 5.2 6.7L21 25Z" />
      <path class="frame" d={`${outline}M5.2 6.7L21 25`} />
    </>
  ),
  not_expected: (
    <>
      <path class="dashes" d={outline} />
      <path class="cross" d="M8.5 10.5L15.5 18.5M15.5 10.5L8.5 18.5" />
    </>
  ),
} as const;

export function Window({ side, state, tonight = false }: Props) {
  return (
    <svg class={`window ${state}${tonight ? " tonight" : ""}`} viewBox="0 0 24 28" aria-hidden="true" focusable="false">
      <g transform={side === "right" ? "translate(24 0) scale(-1 1)" : undefined}>{glass[state]}</g>
    </svg>
  );
}
