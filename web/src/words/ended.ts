// SPDX-License-Identifier: MIT
// Why a phone is no longer signed in, and when that was.
import type { Problem } from "../api/types";
import { moment_words } from "./moments";
import { tell } from "./catalogue/first";

const whys: Record<string, string> = {
  "signed-out": tell("ended.it_was_signed_out_here"),
  "by-phone": tell("ended.another_phone_of_the_home_ended"),
  "by-agency": tell("ended.the_agency_ended_it"),
  "sealed-code": tell("ended.the_sealed_recovery_code_of_this"),
  "new-passkey": tell("ended.a_new_passkey_was_made_which"),
  replaced: tell("ended.replaced"),
  erased: tell("ended.the_household_was_erased"),
};

/// `zone` is the phone's own: whose clocks the household lives by is not known to a phone that is not signed in.
export function ended_words({ ended }: Problem, now: Date, zone: string): string | null {
  if (!ended) return null;
  const words = tell("ended.by_this_phone_s_clock", { value: whys[ended.why] ?? tell("ended.its_time_is_over"), moment: moment_words(new Date(ended.at), now, zone) });
  return ended.why === "sealed-code" ? tell("ended.if_nobody_of_the_home_did", { words }) : words;
}
