// SPDX-License-Identifier: MIT
#pragma once
#include <functional>
#include <optional>
#include <vector>

#include "tests/bench/score/sweep_record.hpp"

namespace cellarer::bench {

/// On which of its evenings (0 the first) a set of the record comes out under some policy: the number of its evenings
/// where the policy would not have changed it by then; none where the set is not to be counted.
using ComesOut = std::function<std::optional<std::size_t>(const SweepRecord& record, std::size_t set)>;

/// Changes when the household's policy says so (life::may_wait), by what that forecaster states.
ComesOut by_policy(std::size_t forecaster, const life::Policy& policy);

/// Changes when (1 - m) P(next) + m P(next but one) exceeds the limit.
ComesOut at_risk_limit(std::size_t forecaster, double limit, double miss_probability);

/// Changes on the last evening on which the set has been in no longer than that many days.
ComesOut after_days(double days);

/// One number of days a side, tuned on its history: the geometric mean of the lives of the side's earlier sets, times
/// exp(-margin). The lives are those that the sets would have had if run to their ends, which no household can know: a
/// generous peer. A side's first `history_needed` sets are not counted.
ComesOut after_tuned_days(const SweepRecord& record, double margin);
inline constexpr std::size_t history_needed = 5;

/// What one setting of a policy costs and risks.
struct FrontierPoint {
  double setting = 0;          ///< the limit, the number of days, the margin
  double waste = 0;            ///< mean share of the charge left in the sets that come out
  double run_outs_kept = 0;    ///< per side-night, every changing time kept
  double run_outs_missed = 0;  ///< per side-night, each evening on which a change is due missed with probability m
  std::size_t sets = 0;
  double run_outs_counted = 0;  ///< per side-night, times kept: of sets that cut-off ended before the policy would have
};
using Frontier = std::vector<FrontierPoint>;

/// Lays a policy over a record; the risk of a night is what forecaster `judge` states. A set that the policy would
/// still have left in when it came out counts as it came out. Missed: m times the risk of the night after the first due
/// evening, m^2 times that of the next, and so on.
FrontierPoint lay_over(const SweepRecord& record, std::size_t judge, const ComesOut& comes_out, double setting,
                       double miss_probability);

/// One forecaster's curve: limits from 1 in ten million to 1 in a hundred, on (1 - c) P(next) + c P(next but one).
Frontier over_limits(const SweepRecord& record, std::size_t judge, std::size_t forecaster, double counted_miss,
                     double miss_probability);

/// Waste where the frontier passes that many run-outs per side-night: a straight line in log run-outs between the two
/// points about it. NaN where it does not pass it. `counted`: those that came, of which there have to be many.
enum class Times { kept, missed, counted };
double waste_at(const Frontier& frontier, double run_outs, Times times = Times::kept);

}  // namespace cellarer::bench
