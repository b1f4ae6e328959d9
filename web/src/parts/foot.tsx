// SPDX-License-Identifier: MIT
// At the foot of every screen, always in sight: the estimate's sentence (in a form, where no forecast stands, what it says of
// the alarm alone: "act on it" was read as the form), and the way to what to do when something is
// wrong. Where the foot would take much of the screen (large text on a small phone) the sentence gives way, and the same
// words stand in each card and form instead; the way to help stays.
import { useEffect, useRef } from "preact/hooks";
import { disclaimer } from "../words/cautions";
import { tell } from "../words/catalogue/first";

const largest_share = 0.3;
const big_letters_px = 24;

function watch_height(foot: HTMLElement): () => void {
  const parts = [...foot.children] as HTMLElement[];
  const measure = (): void => {
    const height = parts.reduce((sum, part) => sum + part.offsetHeight, 0);
    const root = document.documentElement;
    root.style.setProperty("--foot", `${foot.offsetHeight - 1}px`);  // it stands a pixel below the edge
    const large = height > largest_share * window.innerHeight;
    root.toggleAttribute("data-large-text", large);
    root.toggleAttribute("data-big-letters", large || parseFloat(getComputedStyle(root).fontSize) >= big_letters_px);
  };
  const heights = new ResizeObserver(measure);
  parts.forEach((part) => heights.observe(part));
  window.addEventListener("resize", measure);
  return () => {
    heights.disconnect();
    window.removeEventListener("resize", measure);
  };
}

/// `says`: by whether a forecast may stand above; `more`: whether there is more about it to lead to.
export function Foot({ says = disclaimer, more = Boolean(says) }: { says?: string | null; more?: boolean }) {
  const foot = useRef<HTMLElement>(null);
  useEffect(() => (foot.current ? watch_height(foot.current) : undefined), [Boolean(says)]);
  return (
    <footer class="foot" ref={foot}>
      {says && <p class="disclaimer">{says}</p>}
      <p class="help">
        <a class="wrong-now" href="#wrong">
          {tell("foot.something_is_wrong_now")}
        </a>
        {more && <a href="#more">{tell("foot.more")}</a>}
      </p>
    </footer>
  );
}

export function DisclaimerHere({ says = disclaimer }: { says?: string }) {
  return (
    <p class="disclaimer-here" aria-hidden="true">
      {says}
    </p>
  );
}
