// SPDX-License-Identifier: MIT
// Which side. It is asked, never assumed: nothing is chosen unless a question had named the side.
import { Choices } from "../parts/fields";
import type { Draft } from "../state/draft";

export const ask_side = "Choose the side.";

const sides = [
  { value: "left", words: "Left" },
  { value: "right", words: "Right" },
];

interface Props {
  draft: Draft;
  change: (part: Draft) => void;
  errors: Record<string, string>;
  both?: boolean;
}

export function SideField({ draft, change, errors, both = false }: Props) {
  const choices = both ? [...sides, { value: "both", words: "Both" }] : sides;
  return (
    <div class="sides">
      <Choices name="side" legend="Which side" inline value={draft.side ?? ""} choices={choices} error={errors.side} onChange={(side) => change({ side })} />
    </div>
  );
}
