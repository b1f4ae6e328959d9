// SPDX-License-Identifier: MIT
// What the three windows mean, once on the page, with the same drawings.
import type { WindowState } from "../api/types";
import { window_words } from "../words/names";
import { Window } from "./window";
import { tell } from "../words/catalogue/first";

const states: readonly WindowState[] = ["expected", "doubtful", "not_expected"];

export function WindowKey() {
  return (
    <section class="key" aria-label={tell("key.what_the_windows_mean")}>
      <ul>
        {states.map((state) => (
          <li key={state}>
            <Window side="left" state={state} />
            {state === "expected" ? tell("key.expected_to_last") : window_words[state]}
          </li>
        ))}
      </ul>
      <p>{tell("key.tap_the_windows_for_the_odds")}</p>
    </section>
  );
}
