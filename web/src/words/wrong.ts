// SPDX-License-Identifier: MIT
// "Something is wrong now": what to do, in this order. An agency may put its own words in their place; until it has
// approved words, the page says so.
import { tell } from "./catalogue/first";

export interface Step {
  words: string;
  more?: string;
}

export const title = tell("wrong.something_is_wrong_now");

export const first_steps: readonly Step[] = [
  { words: tell("wrong.look_at_the_wearer") },
  { words: tell("wrong.start_the_backup_ventilation_as_prescribed"), more: tell("wrong.do_not_look_for_the_cause") },
];

export const call = tell("wrong.call_for_help");
export const no_number = tell("wrong.no_number_is_entered_here_call");

export const last_step: Step = {
  words: tell("wrong.only_then_look_at_the_unit"),
  more: tell("wrong.cells_fresh_ones_all_of_that"),
};

export const limits = tell("wrong.this_page_cannot_see_the_wearer");
export const not_approved = tell("wrong.the_agency_has_not_approved_these");
export const approved = (date: string): string => tell("wrong.approved_by_the_agency_on", { date });
