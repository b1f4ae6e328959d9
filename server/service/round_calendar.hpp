// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "model/rounds/calendar.hpp"
#include "server/json/field.hpp"

/// The agency's calendar of rounds: by which rules they go, and in which packs items go with them.
namespace cellarer::service {

struct RoundCalendar {
  std::int64_t number = 0;  ///< of its entry; 0: none was recorded yet
  int horizon_days = 56;    ///< that a plan looks ahead
  int cover_days = 35;    ///< where a home's storage is not recorded, it keeps at most what it may use in so many days
  std::string zone_name;  ///< whose date "today" is; empty: that of the first household
  std::vector<rounds::RoundRule> rules;
  std::vector<rounds::Item> items;  ///< what the rounds bring; none: whatever a household uses

  const rounds::Item* item(const std::string& name) const;
};

/// The shape, as it is kept. Throws `json::Refused`.
RoundCalendar read_calendar(const json::Field& body);
/// A calendar that somebody gives now: rules without stops, without days, or with dates before `today` are refused too,
/// each with its place, what is wrong and what would be right.
RoundCalendar read_new_calendar(const json::Field& body, rounds::Date today);
/// {"horizon_days", "cover_days", "zone", "rules": [...], "items": [...]}
nlohmann::json calendar_document(const RoundCalendar& calendar);

}  // namespace cellarer::service
