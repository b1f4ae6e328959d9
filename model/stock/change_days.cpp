// SPDX-License-Identifier: MIT
#include "model/stock/change_days.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

namespace cellarer::stock {
namespace {

constexpr double hours_per_day = 24.0;

/// P(T < t) of a log-normal T with that median; a step when the spread is 0.
double log_normal_below(double t, double median, double log_sd) {
  if (t <= 0) return 0;
  if (log_sd <= 0) return t > median ? 1.0 : 0.0;
  return 0.5 * std::erfc(-std::log(t / median) / (log_sd * std::sqrt(2.0)));
}

/// Days of a log-normal time, rounded down, at least `earliest`; then the habit of being early.
DayPmf whole_days(double median_days, double log_sd, int earliest, const ChangeHabit& habit, int days) {
  assert(days > earliest && habit.early_days >= 0 && habit.early_share >= 0 && habit.early_share <= 1);
  const double early_share = habit.early_days == 0 ? 0.0 : habit.early_share;
  DayPmf result(static_cast<std::size_t>(days), 0.0);
  double below = 0;
  // A plan of exactly n days is n days, though it was found by bisection and may lie a hair below.
  const double median = std::max(median_days * (1 + 1e-9), 1e-9);
  for (int day = earliest; day < days && below < 1; ++day) {
    // With no spread the time is the median itself: it has passed the day's end if that is not beyond the median.
    const double until_end = log_normal_below(day + 1, median, log_sd);
    const double probability = until_end - below;
    below = until_end;
    result[static_cast<std::size_t>(day)] = probability * (1 - early_share);
    if (early_share == 0) continue;
    const double on_each_early_day = probability * early_share / habit.early_days;
    for (int early = 1; early <= habit.early_days; ++early)
      result[static_cast<std::size_t>(std::max(earliest, day - early))] += on_each_early_day;
  }
  return result;
}

/// Near its end a set's remaining time has an ever larger relative spread, which would put changes far too late.
constexpr double widest_remaining_log_sd = 0.5;

double remaining_spread(int change_by_day, double log_sd) {
  return change_by_day <= 0 ? 0.0 : std::min(log_sd, widest_remaining_log_sd);
}

/// A change by day c is in the middle of that day on the time axis, so that a small spread stays on the day.
DayPmf first_days(int change_by_day, double factor, double log_sd, const ChangeHabit& habit, int days) {
  return whole_days((std::max(0, change_by_day) + 0.5) * factor, log_sd, 0, habit, days);
}

/// Five-point Gauss-Hermite rule for the standard normal distribution (exact for polynomials to degree 9;
/// Abramowitz & Stegun, table 25.10, scaled by sqrt 2 and 1 / sqrt pi).
struct Node {
  double z, weight;
};
constexpr std::array<Node, 5> normal_nodes{{{-2.8569700138728056, 0.011257411327720689},
                                            {-1.3556261799742659, 0.22207592200561265},
                                            {0.0, 0.5333333333333333},
                                            {1.3556261799742659, 0.22207592200561265},
                                            {2.8569700138728056, 0.011257411327720689}}};

/// Of each side.
std::vector<double> planned_lives_h(const std::vector<SideOutlook>& sides, const ChangeHabit& habit) {
  std::vector<double> lives;
  lives.reserve(sides.size());
  for (const SideOutlook& side : sides) {
    lives.push_back(side.planned_h ? *side.planned_h : planned_life_h(side.fresh_median_h, side.fresh_log_sd, habit));
  }
  return lives;
}

Scenario scenario_at(Node node, const std::vector<SideOutlook>& sides, const std::vector<double>& planned_h,
                     const ChangeHabit& habit, int days) {
  const double shared = std::sqrt(habit.shared_variance), own = std::sqrt(1 - habit.shared_variance);
  Scenario scenario{node.weight, {}};
  for (std::size_t k = 0; k < sides.size(); ++k) {
    const SideOutlook& side = sides[k];
    const double factor = std::exp(node.z * shared * side.fresh_log_sd);
    const double remaining_log_sd = remaining_spread(side.change_by_day, side.remaining_log_sd);
    const double first_factor = std::exp(node.z * shared * remaining_log_sd);
    scenario.streams.push_back({first_days(side.change_by_day, first_factor, own * remaining_log_sd, habit, days),
                                life_days(planned_h[k] * factor, own * side.fresh_log_sd, habit, days), 1});
  }
  return scenario;
}

}  // namespace

double planned_life_h(double median_h, double log_sd, const ChangeHabit& habit) {
  assert(median_h > 0 && log_sd >= 0);
  assert(habit.risk_limit > 0 && habit.risk_limit < 0.5 && habit.miss_probability >= 0 && habit.miss_probability < 1);
  const auto breaks_limit = [&](double t) {
    double risk = 0, missed = 1;  // probability of having missed m times, and the most that is still to be added
    const auto open = [&] { return risk <= habit.risk_limit && risk + missed > habit.risk_limit; };
    for (double later = t; open() && missed > habit.risk_limit * 1e-6; later += hours_per_day) {
      risk += (1 - habit.miss_probability) * missed * log_normal_below(later, median_h, log_sd);
      missed *= habit.miss_probability;
    }
    return risk > habit.risk_limit;
  };
  double keeps = 0, breaks = median_h * 1.000001;
  if (breaks_limit(keeps)) return 0;
  while (breaks - keeps > 1e-12 * median_h) {
    const double middle = 0.5 * (keeps + breaks);
    (breaks_limit(middle) ? breaks : keeps) = middle;
  }
  return keeps;
}

DayPmf life_days(double planned_h, double log_sd, const ChangeHabit& habit, int days) {
  assert(planned_h >= 0 && log_sd >= 0);
  return whole_days(planned_h / hours_per_day, log_sd, 1, habit, days);
}

DayPmf first_change_days(int change_by_day, double remaining_log_sd, const ChangeHabit& habit, int days) {
  assert(remaining_log_sd >= 0);
  return first_days(change_by_day, 1.0, remaining_spread(change_by_day, remaining_log_sd), habit, days);
}

Demand cells_demand(const std::vector<SideOutlook>& sides, const ChangeHabit& habit, int cells_per_set, int days) {
  assert(cells_per_set >= 1 && days >= 2 && days <= longest_horizon_days);
  assert(habit.shared_variance >= 0 && habit.shared_variance <= 1);
  Demand demand{{}, days, cells_per_set};
  const auto planned_h = planned_lives_h(sides, habit);
  const bool certain = std::all_of(sides.begin(), sides.end(), [](const SideOutlook& side) {
    return side.fresh_log_sd == 0 && side.remaining_log_sd == 0;
  });
  if (certain || habit.shared_variance == 0) {
    demand.scenarios.push_back(scenario_at({0.0, 1.0}, sides, planned_h, habit, days));
  } else {
    for (const Node& node : normal_nodes) demand.scenarios.push_back(scenario_at(node, sides, planned_h, habit, days));
  }
  return demand;
}

}  // namespace cellarer::stock
