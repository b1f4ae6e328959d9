// SPDX-License-Identifier: MIT
// Days on paper: never "tonight" or "today", which a card on a fridge goes on saying.
import { moment_words } from "../words/moments";

/// "Fri 27 Nov, 21:30"
export function dated_words(at: Date, zone: string): string {
  const elsewhen = new Date(at.getTime() - 10 * 86_400_000);
  return moment_words(at, elsewhen, zone);
}
