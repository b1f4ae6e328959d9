// SPDX-License-Identifier: MIT
#include "model/life/calendar.hpp"

#include <algorithm>

namespace cellarer::life {

namespace {

const Stay* stay_at(const Household& household, Instant at) {
  const Stay* found = nullptr;
  for (const Stay& stay : household.stays) {
    const bool holds = stay.from <= at && at < stay.to;
    if (holds && (found == nullptr || stay.from >= found->from)) found = &stay;
  }
  return found;
}

}  // namespace

Zone zone_at(const Household& household, Instant at) {
  const Stay* stay = stay_at(household, at);
  return stay != nullptr && stay->zone != nullptr ? stay->zone : household.zone;
}

std::vector<Instant> changing_times(const Household& household, Instant from, Instant to) {
  if (household.stays.empty()) return changing_times(household.zone, household.changing_times, from, to);
  // Zones differ by up to 26 hours: times before `from` and after `to` are there with three days of margin.
  constexpr std::chrono::days margin{3};
  const Instant begin = from - margin, end = to + margin;
  std::vector<Instant> times;
  const auto add = [&](const Stay* stay, Zone zone, const std::vector<std::chrono::minutes>& times_of_day) {
    for (const Instant time : changing_times(zone, times_of_day, begin, end)) {
      if (stay_at(household, time) == stay) times.push_back(time);
    }
  };
  add(nullptr, household.zone, household.changing_times);
  for (const Stay& stay : household.stays) {
    if (stay.to <= begin || end <= stay.from) continue;
    add(&stay, stay.zone != nullptr ? stay.zone : household.zone,
        stay.changing_times.empty() ? household.changing_times : stay.changing_times);
  }
  std::sort(times.begin(), times.end());
  times.erase(std::unique(times.begin(), times.end()), times.end());
  const auto first = std::upper_bound(times.begin(), times.end(), from) - 1;
  const auto last = std::lower_bound(times.begin(), times.end(), to);
  return {first, last + 1};
}

Instant start_of_tonight(const Household& household, Instant at) {
  if (household.stays.empty()) return start_of_tonight(household.zone, household.changing_times, at);
  const auto times = changing_times(household, at, at + std::chrono::hours(48));
  const auto held = std::max(small_hours_of_tonight(zone_at(household, at), at), times.front());
  return *(std::upper_bound(times.begin(), times.end(), held) - 1);
}

}  // namespace cellarer::life
