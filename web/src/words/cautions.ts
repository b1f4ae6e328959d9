// SPDX-License-Identifier: MIT
// The words that protect people. The first stands wherever a forecast stands, the others are one tap away.
import { tell } from "./catalogue/first";

export const disclaimer = tell("cautions.an_estimate_the_unit_s_own");
/// Where no forecast stands there is no estimate, and nothing but the alarm to act on.
export const alarm_first = tell("cautions.the_unit_s_own_alarm");

export const more: readonly string[] = [
  tell("cautions.this_page_knows_cells_and_stock"),
  tell("cautions.keep_the_prescribed_backup_ventilation_within"),
  tell("cautions.follow_the_maker_s_instructions_and"),
  tell("cautions.change_both_cells_of_a_side"),
  tell("cautions.no_forecast_an_old_one_or"),
];

export const handling = tell("cautions.follow_the_maker_s_card_wearer");

export const reminders = tell("cautions.reminders_are_not_alarms_and_may");
