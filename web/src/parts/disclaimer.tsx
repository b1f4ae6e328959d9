// SPDX-License-Identifier: MIT
// In sight wherever a forecast stands: a bar at the foot of every screen. Where the bar would take much of the
// screen (large text on a small phone) it gives way, and the same words stand in each card and form instead.
import { useEffect, useRef } from "preact/hooks";
import { disclaimer } from "../words/cautions";

const largest_share = 0.3;
const big_letters_px = 24;

function watch_height(bar: HTMLElement): () => void {
  const measure = (): void => {
    const large = bar.offsetHeight > largest_share * window.innerHeight;
    const root = document.documentElement;
    root.toggleAttribute("data-large-text", large);
    root.toggleAttribute("data-big-letters", large || parseFloat(getComputedStyle(root).fontSize) >= big_letters_px);
  };
  const heights = new ResizeObserver(measure);
  heights.observe(bar);
  window.addEventListener("resize", measure);
  return () => {
    heights.disconnect();
    window.removeEventListener("resize", measure);
  };
}

export function DisclaimerBar() {
  const bar = useRef<HTMLElement>(null);
  useEffect(() => (bar.current ? watch_height(bar.current) : undefined), []);
  return (
    <footer class="disclaimer" ref={bar}>
      <p>
        {disclaimer} <a href="#more">More</a>
      </p>
    </footer>
  );
}

export function DisclaimerHere() {
  return (
    <p class="disclaimer-here" aria-hidden="true">
      {disclaimer}
    </p>
  );
}
