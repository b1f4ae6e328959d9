// SPDX-License-Identifier: MIT
// Days on paper: never "tonight" or "today", which a card on a fridge goes on saying.
import { wall_time } from "../time/zone";
import { moment_words } from "../words/moments";

/// "Fri 27 Nov, 21:30"; of another year than this one "Mon 1 Dec, 11:00 (2025)".
export function dated_words(at: Date, zone: string, now: Date): string {
  const elsewhen = new Date(at.getTime() - 10 * 86_400_000);
  const { year } = wall_time(at, zone);
  const words = moment_words(at, elsewhen, zone);
  return year === wall_time(now, zone).year ? words : `${words} (${year})`;
}
