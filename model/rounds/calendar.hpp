// SPDX-License-Identifier: MIT
#pragma once
#include <set>
#include <string>
#include <vector>

#include "model/rounds/records.hpp"

/// Rounds from a rule: on these weekdays, or on these dates.
namespace cellarer::rounds {

struct RoundRule {
  std::string name;  ///< "north morning"; a round is called "north morning 2026-03-02"
  std::string area;
  std::vector<std::chrono::weekday> weekdays;  ///< every week on these
  std::vector<Date> dates;                     ///< and on these
  std::set<Date> not_on;                       ///< and on these not: holidays
  int stops = 0;
  int lead_days = 0;
};

/// The rounds from `first` to `last`, both included, by date, then in the order of the rules. A date named twice by
/// one rule is one round.
std::vector<Round> rounds_of(const std::vector<RoundRule>& rules, Date first, Date last);

}  // namespace cellarer::rounds
