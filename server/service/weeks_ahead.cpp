// SPDX-License-Identifier: MIT
#include "server/service/weeks_ahead.hpp"

#include <algorithm>

#include "model/life/calendar.hpp"
#include "model/life/planned.hpp"

namespace cellarer::service {

namespace {

bool is_told(const life::SideForecast& side, Instant as_of) {
  const bool calm =
      side.phrase == life::Phrase::expected_to_last_tonight || side.phrase == life::Phrase::change_before_tonight;
  return calm && !side.warned_at && !side.stopped_at && side.change_by && *side.change_by > as_of;
}

Instant midnight(Zone zone, stock::Date day) {
  const date::local_days local{date::days{std::chrono::sys_days{day}.time_since_epoch().count()}};
  return date::floor<std::chrono::seconds>(zone->to_sys(local, date::choose::earliest));
}

/// The first changing time of that day at home; where a journey leaves it without one, the last before its end.
Instant changing_time_on(const life::Household& household, stock::Date day) {
  const Instant begins = midnight(household.zone, day), ends = midnight(household.zone, stock::days_after(day, 1));
  const auto times = life::changing_times(household, begins, ends);
  const auto first = std::find_if(times.begin(), times.end(), [&](Instant time) { return time >= begins; });
  const bool has_one = first != times.end() && *first < ends;
  return has_one || first == times.begin() ? *first : *std::prev(first);
}

/// When this policy changes a fresh set. Stock counts on a shorter life, so that it may not run out; a date that people
/// are told should not be days too early with each set. Plans that shorten a life shorten this alike.
stock::SideOutlook as_changed(stock::SideOutlook outlook, const life::SideForecast& side) {
  if (side.planned_life_h) outlook.planned_h = *side.planned_life_h * outlook.fresh_median_h / *side.set_life_h;
  return outlook;
}

}  // namespace

WeeksAhead weeks_ahead(const HouseholdRecord& record, const life::HouseholdForecast& forecast,
                       const Outlooks& outlooks) {
  WeeksAhead weeks;
  const Zone zone = record.life.zone;
  const auto today = stock::date_in(zone, forecast.as_of);
  stock::ChangeHabit habit;
  habit.risk_limit = record.life.policy.risk_limit;
  habit.miss_probability = record.life.policy.miss_probability;
  for (const auto which : both_sides) {
    const auto& side = forecast.side(which);
    const auto& outlook = outlooks[slot(which)];
    if (!outlook || !is_told(side, forecast.as_of)) continue;
    std::vector<int> visits;
    for (const Instant by : life::visits_after(record.life, which, *side.change_by))
      visits.push_back(stock::days_between(today, stock::date_in(zone, by)));
    auto& dates = weeks[slot(which)];
    for (const auto& change : stock::coming_changes(as_changed(*outlook, side), habit, visits)) {
      const auto on = [&](int day) { return stock::days_after(today, day); };
      const Instant at = dates.empty() ? *side.change_by : changing_time_on(record.life, on(change.likely_day));
      if (!dates.empty() && at <= dates.back().at) continue;  // two days that a journey's clock makes one
      dates.push_back({at, on(change.earliest_day), on(change.latest_day)});
    }
  }
  return weeks;
}

}  // namespace cellarer::service
