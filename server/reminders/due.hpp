// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include "server/service/reminder_settings.hpp"

/// What a household is to be reminded of, and when: a pure function of its forecast as the pages show it, of what it
/// has asked for, and of a moment.
///
/// - Cells: a side that reads "change before tonight" or "change now", for the coming changing time; from the hour that
///   was asked for on, "change now" at once. These are urgent: quiet hours do not hold them.
/// - Stock: what is to be ordered by today or tomorrow, or should have been; outside quiet hours.
///
/// In hospital nothing, not even of a side whose unit had warned before: the page still tells of that alarm
/// (DEVELOPERS.md, 9.3), but whoever looks after the wearer there has no need of a phone at home.
namespace cellarer::reminders {

struct Due {
  enum class Is { change_tonight, change_now, order } is;
  std::string subject;  ///< "left", "right", "order:cells"
  Instant due;          ///< the changing time; of an order the beginning of its day
  Instant from;         ///< not before
  bool urgent = false;
};

/// All that stands open, whether or not its time has come.
std::vector<Due> due_of(const nlohmann::json& forecast, const service::ReminderSettings& settings);

/// Whether the time has come: `from` has passed and, unless urgent, it is not within quiet hours by the clock of
/// `zone`.
bool is_time(const Due& due, const service::ReminderSettings& settings, Zone zone, Instant now);

/// Whether they are in hospital, by that forecast.
bool in_hospital(const nlohmann::json& forecast);

/// By whose clock they live now: the forecast's `zone_now`.
Zone zone_of(const nlohmann::json& forecast);

}  // namespace cellarer::reminders
