// SPDX-License-Identifier: MIT
#include "model/stock/risk_curve.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace cellarer::stock {

namespace {

constexpr double hours_a_year = 8766, hours_a_day = 24, z95 = 1.6449;

double life_below(double t_h, const FreshLife& life) {
  if (life.log_sd <= 0) return t_h > life.median_h ? 1 : 0;
  return 0.5 * std::erfc(-std::log(t_h / life.median_h) / (life.log_sd * std::sqrt(2.0)));
}

/// The longest wait within the limit, by bisection.
double longest_wait_h(const FreshLife& life, double gap_h, double risk_limit, double miss_probability) {
  const auto risk_at = [&](double t_h) {
    double risk = 0, missed = 1;
    for (double later_h = t_h; missed > risk_limit * 1e-6; later_h += gap_h) {
      risk += (1 - miss_probability) * missed * life_below(later_h, life);
      missed *= miss_probability;
    }
    return risk;
  };
  double keeps = 1e-9 * life.median_h, breaks = life.median_h;
  if (risk_at(keeps) > risk_limit) return 0;
  for (int step = 0; step < 50; ++step) {
    const double middle = 0.5 * (keeps + breaks);
    (risk_at(middle) > risk_limit ? breaks : keeps) = middle;
  }
  return keeps;
}

double interval_h(const FreshLife& life, double gap_h, double risk_limit, double miss_probability) {
  return std::max(longest_wait_h(life, gap_h, risk_limit, miss_probability) - gap_h / 2, gap_h);
}

}  // namespace

CurvePoint curve_point(const std::vector<FreshLife>& sides, int changing_times, double risk_limit,
                       const CurveOptions& options) {
  assert(changing_times >= 1 && risk_limit > 0 && risk_limit < 0.5);
  CurvePoint point;
  point.changing_times = changing_times;
  point.risk_limit = risk_limit;
  const double gap_h = hours_a_day / changing_times;
  double left = 0;
  for (const FreshLife& life : sides) {
    assert(life.median_h > 0 && life.log_sd >= 0);
    const double usual_h = interval_h(life, gap_h, risk_limit, options.miss_probability);
    const double common = std::exp(z95 * std::sqrt(options.shared_variance) * life.log_sd);
    const auto sets = [&](double factor) { return hours_a_year / std::max(usual_h * factor, gap_h); };
    point.sets_a_year_p50 += sets(1);
    point.sets_a_year_p05 += sets(common);
    point.sets_a_year_p95 += sets(1 / common);
    const double mean_life_h = life.median_h * std::exp(0.5 * life.log_sd * life.log_sd);
    left += std::clamp(1 - usual_h / mean_life_h, 0.0, 1.0);
  }
  if (!sides.empty()) point.charge_left_share = left / static_cast<double>(sides.size());
  point.run_outs_a_year = point.sets_a_year_p50 * risk_limit;
  return point;
}

}  // namespace cellarer::stock
