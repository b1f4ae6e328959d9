// SPDX-License-Identifier: MIT
#include "model/rounds/calendar.hpp"

#include <algorithm>

#include "model/rounds/check.hpp"

namespace cellarer::rounds {

std::vector<Round> rounds_of(const std::vector<RoundRule>& rules, Date first, Date last) {
  std::vector<Round> rounds;
  for (std::chrono::sys_days day{first}; day <= std::chrono::sys_days{last}; day += std::chrono::days{1}) {
    const Date date{day};
    for (const RoundRule& rule : rules) {
      const bool on_weekday =
          std::find(rule.weekdays.begin(), rule.weekdays.end(), std::chrono::weekday{day}) != rule.weekdays.end();
      const bool on_date = std::find(rule.dates.begin(), rule.dates.end(), date) != rule.dates.end();
      if ((on_weekday || on_date) && !rule.not_on.count(date))
        rounds.push_back({rule.name + " " + iso(date), rule.area, date, rule.stops, rule.lead_days});
    }
  }
  return rounds;
}

}  // namespace cellarer::rounds
