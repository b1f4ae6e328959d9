// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "tests/bench/trial/results.hpp"

namespace cellarer::bench {

/// One row of the table of targets. Figures are fractions and plain counts.
struct TargetRow {
  std::string what;
  std::string target, result;  ///< nothing is asked where there is no target
  std::string beside;          ///< what to read it against: the best possible, a bound
  bool met = false;
  bool enough = true;  ///< nights and sets for a verdict

  const char* verdict() const { return target.empty() ? "" : !enough ? "too few" : met ? "met" : "not met"; }
};

/// The figures that the targets speak of.
struct Figures {
  double waste_percent_gauge = 0, waste_five_steps = 0;
  double run_outs_per_million_kept = 0, run_outs_per_million_missed = 0;
  double bound_kept = 0, bound_missed = 0;  ///< 95 %, per million side-nights
  double side_nights_kept = 0, side_nights_missed = 0;
  /// By the true posterior over the nights that the default policy accepts in the sweeps' homes, mean of the gauges.
  double accepted_per_million_kept = 0, accepted_per_million_missed = 0;
  double frontier_percent_gauge = 0, frontier_five_steps = 0;  ///< waste at 5 accepted run-outs per million
  double best_frontier_percent_gauge = 0, best_frontier_five_steps = 0;
  double best_waste_percent_gauge = 0, best_waste_five_steps = 0;  ///< at the default limit
  double over_best = 0;  ///< at equal accepted risk: the worse of the two gauges, at 5 per million
  EqualRunOuts
      over_best_many;  ///< of the gauge that is worse when counted: at equal counted run-outs, far more of them
  double over_one_n = 0, over_one_n_a_side = 0;
  double one_n = 0, one_n_a_side = 0;
  double warnings_per_thousand = 0, warnings_per_wearer_year = 0;
  double coverage90_min = 0, coverage90_max = 0;  ///< over slices of at least so many sets, in the reference world
  double field_coverage90_min = 0, field_coverage90_max = 0;
  double doubled_coverage90_min = 0, doubled_coverage90_max = 0;  ///< specimens twice as far apart
  double crps_over_best = 0;
};
inline constexpr std::uint64_t sets_for_a_verdict = 2000;
inline constexpr double side_nights_for_a_verdict = 3e6;
inline constexpr double run_outs_for_a_verdict = 50;

Figures figures_of(const TrialResults& results);
std::vector<TargetRow> targets_of(const Figures& figures);

/// Waste of a curve at the run-outs in question; NaN where it does not come there.
double at_five(const Curve& curve);

/// Slices of several runs put together: the same names merge.
std::map<std::string, Coverage> slices_of(const std::vector<NamedRun>& runs);

}  // namespace cellarer::bench
