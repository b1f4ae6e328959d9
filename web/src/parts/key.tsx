// SPDX-License-Identifier: MIT
// What the three windows mean, once on the page, with the same drawings.
import type { WindowState } from "../api/types";
import { window_words } from "../words/names";
import { Window } from "./window";

const states: readonly WindowState[] = ["expected", "doubtful", "not_expected"];

export function WindowKey() {
  return (
    <section class="key" aria-label="What the windows mean">
      <ul>
        {states.map((state) => (
          <li key={state}>
            <Window side="left" state={state} />
            {state === "expected" ? "expected to last" : window_words[state]}
          </li>
        ))}
      </ul>
      <p>Tap the windows for the odds.</p>
    </section>
  );
}
