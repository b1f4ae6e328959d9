// SPDX-License-Identifier: MIT
// "Ask": that a home was asked for a count is an entry of its household, which can be undone like any other.
import { household_path } from "../../api/client";
import type { BoardRow } from "../board_types";
import { days_since } from "../common/dates";
import { say_done } from "../common/done";
import { useSend } from "../common/use_send";
import { undo_of } from "./undo";

const ask_again_after_days = 14;

/// When it was asked for the count that has not come since; null: it was not, or so long ago that it may be asked again.
export function waits_for_count({ asked_at, last_count_at }: Pick<BoardRow, "asked_at" | "last_count_at">, today: string): string | null {
  const answered = asked_at !== null && last_count_at !== null && Date.parse(last_count_at) >= Date.parse(asked_at);
  return asked_at === null || answered || days_since(asked_at, today) > ask_again_after_days ? null : asked_at;
}

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
