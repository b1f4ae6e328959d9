// SPDX-License-Identifier: MIT
// Whom a list of the bench leaves out: a home whose record cannot be read closes no page, and must not be missed on it. The
// desk says it with the same sentence.
import { tell } from "../words/catalogue/bench";

export interface LeavesOut {
  left_out?: readonly string[];
}

function homes_words(homes: readonly string[]): string {
  if (homes.length < 2) return homes.join("");
  return tell("bench.homes_and_home", { homes: homes.slice(0, -1).join(", "), home: homes.at(-1) ?? "" });
}

export function LeftOut({ left_out }: LeavesOut) {
  if (!left_out?.length) return null;
  return <p class="text">{tell("bench.not_in_here", { homes: homes_words(left_out) })}</p>;
}
