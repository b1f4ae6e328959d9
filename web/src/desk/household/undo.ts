// SPDX-License-Identifier: MIT
// Entries of a household taken back, as any other is.
import { household_path, post } from "../../api/client";
import { new_key } from "../common/key";

/// What the bar at the foot offers: none where the service named no entry. `words`: what to say then; `with_it`: entries
/// that go first, because that one stands on them.
export function undo_of(household: string, entry: number | null | undefined, words: string, then: () => void, with_it: readonly number[] = []): (() => Promise<string | null>) | null {
  if (entry === undefined || entry === null) return null;
  const keyed = [...with_it, entry].map((one) => ({ one, key: new_key() }));
  return async () => {
    for (const { one, key } of keyed) {
      const answer = await post(`${household_path(household)}/voids`, { entry: one }, key);
      if (!("got" in answer)) return null;
    }
    then();
    return words;
  };
}
