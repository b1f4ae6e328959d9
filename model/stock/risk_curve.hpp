// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

namespace cellarer::stock {

/// What a limit of risk, and the number of changing times a day, cost in sets a year.
///
///     t        the longest wait that keeps  sum over m >= 0 of (1 - q) q^m F(t + m gap) <= limit
///     F        log-normal distribution of a fresh set's life, by its median [h] and log spread
///     q        probability of missing one changing time; gap = 24 h / changing times a day
///     interval = max(t - gap / 2, gap)      a set is taken out at the changing time before t, which lies anywhere in
///     it sets a year = 8766 h / interval,  left = 1 - interval / mean life,  run-outs = sets a year x limit
///
/// A fresh set before any reading of it: readings let the policy run a set longer, so the sets are an upper end. Times
/// are taken as evenly spread over the day. Sums are over sides; their 5 % and 95 % take `shared_variance` of each
/// side's spread as common to all of them (assumption, as in change_days.hpp), the rest averages out.
struct FreshLife {
  double median_h = 0;  ///< above 0
  double log_sd = 0;    ///< 0 or more
};

struct CurvePoint {
  int changing_times = 1;
  double risk_limit = 1e-5;
  double sets_a_year_p05 = 0, sets_a_year_p50 = 0, sets_a_year_p95 = 0;
  double charge_left_share = 0;  ///< of a set, on average over sides
  double run_outs_a_year = 0;    ///< expected, of all sides together
};

struct CurveOptions {
  double miss_probability = 0.05;
  double shared_variance = 0.5;
};

CurvePoint curve_point(const std::vector<FreshLife>& sides, int changing_times, double risk_limit,
                       const CurveOptions& options = {});

}  // namespace cellarer::stock
