// SPDX-License-Identifier: MIT
// When anyone last recorded something for a side.
import type { SideForecast } from "../api/types";
import { tell } from "./catalogue/first";
import { moment_words } from "./moments";

export function last_words({ last_recorded_at: last }: SideForecast, zone: string, now: Date): string {
  return last ? tell("side_card.last_recorded", { moment: moment_words(new Date(last), now, zone) }) : tell("side_card.nothing_recorded_yet_for_this_side");
}
