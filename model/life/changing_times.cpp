// SPDX-License-Identifier: MIT
#include "model/life/changing_times.hpp"

#include <algorithm>
#include <cassert>

namespace cellarer::life {

namespace {

using namespace std::chrono_literals;

Instant moment(Zone zone, date::local_days day, std::chrono::minutes time_of_day) {
  const auto local = date::local_seconds(day) + time_of_day;
  const auto info = zone->get_info(local);
  if (info.result == date::local_info::nonexistent) return info.first.end;
  return Instant((local - info.first.offset).time_since_epoch());
}

date::local_days local_day(Zone zone, Instant at) { return date::floor<date::days>(zone->to_local(at)); }

}  // namespace

std::vector<Instant> changing_times(Zone zone, const std::vector<std::chrono::minutes>& times_of_day, Instant from,
                                    Instant to) {
  assert(zone != nullptr && !times_of_day.empty() && from <= to);
  auto ordered = times_of_day;
  std::sort(ordered.begin(), ordered.end());
  std::vector<Instant> times;
  // A day of margin at both ends: the last time before `from` may be yesterday's, the first after `to` tomorrow's.
  const auto last_day = local_day(zone, to) + date::days(1);
  for (auto day = local_day(zone, from) - date::days(1); day <= last_day; day += date::days(1)) {
    for (const auto time_of_day : ordered) {
      const auto at = moment(zone, day, time_of_day);
      if (times.empty() || at > times.back()) times.push_back(at);
    }
  }
  const auto first = std::upper_bound(times.begin(), times.end(), from) - 1;
  const auto last = std::lower_bound(times.begin(), times.end(), to);
  return {first, last + 1};
}

Instant small_hours_of_tonight(Zone zone, Instant at) {
  const auto day = local_day(zone, at);
  const bool still_night = zone->to_local(at) < date::local_seconds(day) + 6h;
  return moment(zone, still_night ? day : day + date::days(1), 3h);
}

Instant start_of_tonight(Zone zone, const std::vector<std::chrono::minutes>& times_of_day, Instant at) {
  const auto times = changing_times(zone, times_of_day, at, at + 48h);
  const auto held = std::max(small_hours_of_tonight(zone, at), times.front());
  return *(std::upper_bound(times.begin(), times.end(), held) - 1);
}

}  // namespace cellarer::life
