// SPDX-License-Identifier: MIT
// A phone's clock that is off is asked about, and nothing is refused for it.
import { clock } from "./moments";
import { tell } from "./catalogue/first";

const worth_asking_ms = 10 * 60_000;

export function clocks_words(now: Date, ahead_ms: number, zone: string): { title: string; detail: string } | null {
  if (Math.abs(ahead_ms) <= worth_asking_ms) return null;
  const theirs = new Date(now.getTime() - ahead_ms);
  return {
    title: tell("clocks.this_phone_s_clock_shows_the", { phone: clock(now, zone), service: clock(theirs, zone) }),
    detail: tell("clocks.if_the_phone_is_wrong_set"),
  };
}
