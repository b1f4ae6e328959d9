// SPDX-License-Identifier: MIT
#include "model/stock/other_items.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace cellarer::stock {
namespace {

/// P(interval of at most `day` whole days): the log-normal with that mean and relative spread, rounded to the nearest
/// day; anything below half a day is one day.
double interval_until(int day, const ByInterval& use) {
  if (day < 1) return 0;
  const double end = day + 0.5;
  if (use.relative_sd == 0) return use.every_days < end ? 1.0 : 0.0;
  const double variance = std::log1p(use.relative_sd * use.relative_sd);
  const double mean_log = std::log(use.every_days) - 0.5 * variance;
  return 0.5 * std::erfc(-(std::log(end) - mean_log) / std::sqrt(2 * variance));
}

/// Of each day from `first_day` on.
std::vector<double> interval_until(int first_day, int days, const ByInterval& use) {
  std::vector<double> until(static_cast<std::size_t>(days), 1.0);
  for (int day = 0; day < days; ++day) {
    const double so_far = interval_until(first_day + day, use);
    if (so_far == 1) break;
    until[static_cast<std::size_t>(day)] = so_far;
  }
  return until;
}

/// Day of the next use.
DayPmf first_use(const ByInterval& use, int days) {
  DayPmf first(static_cast<std::size_t>(days), 0.0);
  if (use.days_since_last && *use.days_since_last >= use.every_days) {
    first[0] = 1;  // overdue: today, so that a forgotten entry does not stretch the stock
    return first;
  }
  // Not used since: the interval is at least as long as the days that have passed.
  const int passed = use.days_since_last ? static_cast<int>(std::floor(*use.days_since_last)) : 0;
  double before = interval_until(passed - 1, use);
  const double still_to_come = 1 - before;
  const std::vector<double> until = interval_until(passed, days, use);
  for (std::size_t d = 0; d < first.size(); ++d) {
    first[d] = use.days_since_last ? (until[d] - before) / still_to_come : 1 - until[d];
    before = until[d];
  }
  if (use.days_since_last) return first;
  // The sum of P(interval > d) is the mean; what lies beyond the horizon is added from the mean asked for.
  double mean = 0;
  for (const double longer : first) mean += longer;
  if (first.back() > 1e-9) mean = std::max(mean, use.every_days);
  for (double& probability : first) probability /= mean;
  return first;
}

Stream stream_of(const ByInterval& use, int days) {
  assert(use.every_days >= 1 && use.relative_sd >= 0 && use.amount >= 0);
  assert(!use.days_since_last || *use.days_since_last >= 0);
  DayPmf next(static_cast<std::size_t>(days), 0.0);
  const std::vector<double> until = interval_until(0, days, use);
  for (std::size_t d = 1; d < next.size(); ++d) next[d] = until[d] - until[d - 1];
  return {first_use(use, days), next, use.amount};
}

/// What a scenario's changes use up of a thing of which each takes a part.
Stream by_parts(const Scenario& changes, double part, int days) {
  double a_day = 0;
  for (const Stream& stream : changes.streams) a_day += stream.amount * uses_a_day(stream, days);
  ByInterval use;
  use.every_days = std::max(1 / (part * a_day), 1.0);
  return stream_of(use, days);
}

}  // namespace

Demand item_demand(const ItemUse& use, const Demand& cells) {
  Demand demand{{{1.0, {}}}, cells.days, 1};
  if (use.per_change) {
    assert(use.per_change->pieces >= 0);
    const double whole = std::floor(use.per_change->pieces), part = use.per_change->pieces - whole;
    demand.scenarios = cells.scenarios;
    for (Scenario& scenario : demand.scenarios) {
      const Scenario changes = scenario;
      for (Stream& stream : scenario.streams) stream.amount *= static_cast<int>(whole);
      if (part > 0 && !changes.streams.empty()) scenario.streams.push_back(by_parts(changes, part, cells.days));
    }
  }
  if (use.interval) {
    const Stream stream = stream_of(*use.interval, cells.days);
    for (Scenario& scenario : demand.scenarios) scenario.streams.push_back(stream);
  }
  return demand;
}

}  // namespace cellarer::stock
