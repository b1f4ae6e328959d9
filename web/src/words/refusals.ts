// SPDX-License-Identifier: MIT
// What the pages say where the service does not let someone in, or not now: what it means, and what to do.
import type { Problem } from "../api/types";
import { problem_code } from "../api/client";
import { tell } from "./catalogue/first";

export interface Said {
  title: string;
  detail: string;
}

function wait_words(seconds: number | undefined): string {
  if (!seconds) return tell("refusals.wait_a_minute_then_try_again");
  return seconds < 90 ? tell("refusals.wait_seconds_then_try_again", { count: Math.ceil(seconds) }) : tell("refusals.wait_minutes_then_try_again", { count: Math.ceil(seconds / 60) });
}

const no_signal: Said = { title: tell("refusals.no_signal"), detail: tell("refusals.nothing_was_changed_try_again_when") };

/// Why, where the service says so of a field; else what it says of the whole.
const why = (problem: Problem): string => problem.errors?.[0]?.reason ?? problem.detail ?? "";
const not_like_this = (problem: Problem): Said => ({ title: tell("refusals.it_cannot_be_recorded_like_this"), detail: why(problem) });
const cannot_now = (): Said => ({ title: tell("refusals.the_service_cannot_answer_now"), detail: tell("refusals.it_is_asked_again") });

const by_code: Record<string, (problem: Problem) => Said> = {
  "not-signed-in": () => ({ title: tell("refusals.this_phone_is_not_signed_in"), detail: tell("refusals.sign_in_again_then_repeat_this") }),
  "not-allowed": () => ({ title: tell("refusals.this_phone_may_not_do_this"), detail: tell("refusals.another_phone_of_the_home_may") }),
  "outside-hours": (problem) => ({
    title: tell("refusals.outside_this_phone_s_hours"), detail: problem.detail ?? tell("refusals.what_is_recorded_is_kept_on"),
  }),
  "too-many-attempts": (problem) => ({
    title: tell("refusals.too_many_attempts_from_here"), detail: tell("refusals.phones_that_are_signed_in_are", { wait: wait_words(problem.retry_after_s) }),
  }),
  "invitation-used-or-over": () => ({
    title: tell("refusals.this_invitation_was_used_already_or"),
    detail: tell("refusals.ask_for_a_new_one_on"),
  }),
  "cross-site": () => ({ title: tell("refusals.another_page_tried_to_do_this"), detail: tell("refusals.it_was_refused_open_this_page") }),
  missing: not_like_this,
  "wrong-type": not_like_this,
  "out-of-range": not_like_this,
  "too-long": not_like_this,
  "already-voided": () => ({ title: tell("refusals.it_was_undone_before"), detail: tell("refusals.perhaps_on_another_phone") }),
  "clock-behind": () => ({ title: tell("refusals.the_clock_is_wrong"), detail: tell("refusals.no_forecast_until_it_is_right") }),
  "no-forecast-yet": cannot_now,
  "store-unavailable": cannot_now,
  busy: cannot_now,
  internal: cannot_now,
  "unknown-account": () => ({ title: tell("refusals.it_is_not_there_any_more"), detail: tell("refusals.it_was_ended_already") }),
};

export function refusal_words(answer: { problem: Problem } | { no_signal: true }): Said {
  if ("no_signal" in answer) return no_signal;
  const { problem } = answer;
  const known = by_code[problem_code(problem)] ?? (problem.status >= 500 ? cannot_now : undefined);
  return known ? known(problem) : { title: problem.title, detail: why(problem) };
}
