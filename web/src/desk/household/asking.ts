// SPDX-License-Identifier: MIT
// "Ask": that a home was asked for a count is an entry of its household, which can be undone like any other.
import { household_path } from "../../api/client";
import { say_done } from "../common/done";
import { useSend } from "../common/use_send";
import { undo_of } from "./undo";

interface Asked {
  asked_at: string;
  entry?: number;
}

/// `asked`: what to show then; null: it was undone.
export function use_asking(asked: (household: string, at: string | null) => void) {
  const { busy, said, send } = useSend();
  const ask = async (household: string): Promise<void> => {
    const answer = await send<Asked>(`${household_path(household)}/ask`, {});
    if (!answer) return;
    asked(household, answer.asked_at);
    say_done(`Noted: ${household} was asked for a count.`, undo_of(household, answer.entry, `${household} was not asked.`, () => asked(household, null)));
  };
  return { busy, said, ask };
}
