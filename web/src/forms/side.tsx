// SPDX-License-Identifier: MIT
// Which side. It is asked, never assumed: nothing is chosen unless a question had named the side.
import { both_sides, type Side } from "../api/types";
import { Choices } from "../parts/fields";
import type { Draft } from "../state/draft";
import { side_name } from "../words/names";
import { useProfile } from "../state/unit_profile";
import { field, type Context, type Fields } from "./context";
import { tell } from "../words/catalogue/record";

export const ask_side = tell("side.choose_the_side");

export function sides_of(draft: Draft): Side[] {
  if (draft.side === "both") return [...both_sides];
  return draft.side === "left" || draft.side === "right" ? [draft.side] : [];
}

export function sides_words(sides: readonly Side[]): string {
  return sides.length === 2 ? tell("side.both_sides") : side_name[sides[0] ?? "left"];
}

/// Named as they are marked on the unit in use, where its profile says how.
export function SideField({ form, both = false }: { form: Fields & { context: Context }; both?: boolean }) {
  const marks = useProfile(form.context.household)?.marks;
  const named = both_sides.map((value) => ({ value, words: tell(`side.${value}`), hint: marks?.[value] }));
  const choices = both ? [...named, { value: "both", words: tell("side.both_sides") }] : named;
  return (
    <div class="sides">
      <Choices {...field(form, "side")} legend={tell(marks?.left && marks.right ? "side.which_side_by_its_mark" : "side.which_side")} inline choices={choices} />
    </div>
  );
}
