// SPDX-License-Identifier: MIT
// Which side. It is asked, never assumed: nothing is chosen unless a question had named the side.
import { both_sides, type Side } from "../api/types";
import { Choices } from "../parts/fields";
import type { Draft } from "../state/draft";
import { side_name } from "../words/names";
import { field, type Fields } from "./context";
import { tell } from "../words/catalogue/record";

export const ask_side = tell("side.choose_the_side");

const sides = [
  { value: "left", words: tell("side.left") },
  { value: "right", words: tell("side.right") },
];

export function sides_of(draft: Draft): Side[] {
  if (draft.side === "both") return [...both_sides];
  return draft.side === "left" || draft.side === "right" ? [draft.side] : [];
}

export function sides_words(sides: readonly Side[]): string {
  return sides.length === 2 ? tell("side.both_sides") : side_name[sides[0] ?? "left"];
}

export function SideField({ form, both = false }: { form: Fields; both?: boolean }) {
  const choices = both ? [...sides, { value: "both", words: tell("side.both") }] : sides;
  return (
    <div class="sides">
      <Choices {...field(form, "side")} legend={tell("side.which_side")} inline choices={choices} />
    </div>
  );
}
