// SPDX-License-Identifier: MIT
// In sight wherever a forecast stands: a bar at the foot of every screen. Where the screen is too low for a bar
// (large text on a small phone) the same words stand in each card instead; the style file chooses.
import { disclaimer } from "../words/cautions";

export function DisclaimerBar() {
  return (
    <footer class="disclaimer">
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
