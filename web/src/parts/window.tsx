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

interface Lines {
  outline: string;
  bars: string;
  half: string;
  diagonal: string;
}

/// Made once: there are twenty on the page, and each element of each costs a phone.
const glass_of = ({ outline, bars, half, diagonal }: Lines) => ({
  expected: (
    <>
      <path class="lamp" d={outline} />
      <path class="bars" d={bars} />
      <path class="frame" d={outline} />
    </>
  ),
  doubtful: (
    <>
      <path class="dark" d={outline} />
      <path class="lamp" d={half} />
      <path class="frame" d={outline + diagonal} />
    </>
  ),
  not_expected: (
    <>
      <path class="dashes" d={outline} />
      <path class="cross" d="M8.5 10.5L15.5 18.5M15.5 10.5L8.5 18.5" />
    </>
  ),
});

const glass = {
  left: glass_of({ outline: "M3 25V13A10 10 0 0 1 13 3H21V25Z", bars: "M12.5 3V25M3 14.5H21", half: "M3 25V13A10 10 0 0 1 5.2 6.7L21 25Z", diagonal: "M5.2 6.7L21 25" }),
  right: glass_of({ outline: "M21 25V13A10 10 0 0 0 11 3H3V25Z", bars: "M11.5 3V25M21 14.5H3", half: "M21 25V13A10 10 0 0 0 18.8 6.7L3 25Z", diagonal: "M18.8 6.7L3 25" }),
};

export function Window({ side, state, tonight = false }: Props) {
  return (
    <svg class={`window ${state}${tonight ? " tonight" : ""}`} viewBox="0 0 24 28" aria-hidden="true" focusable="false">
      {glass[side][state]}
    </svg>
  );
}
