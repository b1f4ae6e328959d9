// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <vector>

#include "tests/bench/score/sweep_record.hpp"

namespace cellarer::bench {

/// Waste of one forecaster over another's, their limits on the coming night chosen so that as many sides run out.
///
/// Few run-outs can only be summed up as the risk that the policy accepts, as the judge states it (sweep_record.hpp):
/// that is the judge's word. Many can be counted as well. Both are given at the same rate, of the same sets, so that
/// the one shows what the other is worth.
struct EqualRunOuts {
  double per_side_night = 0;     ///< the rate
  double by_accepted_risk = 0;   ///< waste over the other's, at that rate of accepted risk
  double counted = 0;            ///< the same, at that rate of run-outs that came
  double counted_error = 0;      ///< its standard error: jackknife over ten groups of homes
  double run_outs_expected = 0;  ///< at that rate in the nights of this record: how many the count rests on, about
};

/// `judge` states the risk. NaN where a forecaster's limits do not come to that rate.
EqualRunOuts at_equal_run_outs(const SweepRecord& record, std::size_t judge, std::size_t forecaster, std::size_t other,
                               double per_side_night);

/// The standard error of an estimate from what it is with each of the groups left out in turn:
///
///     se^2 = (g - 1) / g sum (t_i - mean t)^2      Efron and Stein, Annals of Statistics 9 (1981), p. 586
double jackknife_error(const std::vector<double>& with_one_left_out);

}  // namespace cellarer::bench
