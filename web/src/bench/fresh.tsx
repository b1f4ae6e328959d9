// SPDX-License-Identifier: MIT
// When it was computed, and whether something newer is being worked in. Until the first review since a start is made
// nothing was computed, and a list without lines is no news.
import { moment_words } from "../words/moments";
import { here } from "./words";
import { tell } from "../words/catalogue/bench";

export type AsOf = string | null;

/// What stands where a list has no lines.
export const empty_words = (as_of: AsOf, otherwise: string): string => (as_of === null ? tell("bench.first_review_is_being_made") : otherwise);

export function Fresh({ as_of, fresh, waiting = 0 }: { as_of: AsOf; fresh: boolean; waiting?: number }) {
  const again = as_of === null ? "bench.homes_to_look_at" : "bench.homes_looked_at_again";
  const newer = waiting > 0 ? tell(again, { count: waiting }) : fresh || as_of === null ? "" : tell("bench.newer_entries_are_being_worked_in");
  const computed = as_of === null ? "" : tell("bench.computed", { when: moment_words(new Date(as_of), new Date(), here()) });
  return <p class="small">{[computed, newer, tell("bench.it_tells_what_the_records_say")].filter(Boolean).join(" ")}</p>;
}
