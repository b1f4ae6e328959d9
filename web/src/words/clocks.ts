// SPDX-License-Identifier: MIT
// A phone's clock that is off is asked about, and nothing is refused for it.
import { clock_ahead_ms, is_worth_asking, right_clock } from "../time/service_clock";
import { clock } from "./moments";
import { tell } from "./catalogue/first";

/// `phone`: by this phone's clock.
export function clocks_words(phone: Date, zone: string): { title: string; detail: string } | null {
  if (!is_worth_asking()) return null;
  const shown = { phone: clock(phone, zone), service: clock(new Date(phone.getTime() - clock_ahead_ms()), zone) };
  const right = right_clock();
  if (!right) return { title: tell("clocks.this_phone_s_clock_shows_the", shown), detail: tell("clocks.until_you_answer") };
  return { title: tell("clocks.this_phone_shows", shown), detail: tell(right === "phone" ? "clocks.now_is_the_phone_s" : "clocks.now_is_the_service_s") };
}
