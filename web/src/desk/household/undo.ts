// SPDX-License-Identifier: MIT
// Entries of a household taken back, as any other is.
import { household_path, post } from "../../api/client";
import { new_key } from "../common/key";

/// What the bar at the foot offers: none where the service named no entry. `words`: what to say then. What stands on that
/// entry goes with it, in the same act.
export function undo_of(household: string, entry: number | null | undefined, words: string, then: () => void): (() => Promise<string | null>) | null {
  if (entry === undefined || entry === null) return null;
  const key = new_key();
  return async () => {
    const answer = await post(`${household_path(household)}/voids`, { entry }, key);
    if (!("got" in answer)) return null;
    then();
    return words;
  };
}
