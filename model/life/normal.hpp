// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <vector>

/// The standard normal distribution, with tails that keep their relative accuracy, because the policy lives at one in a
/// hundred thousand.
namespace cellarer::life {

inline double normal_density(double z) { return std::exp(-0.5 * z * z) / std::sqrt(2 * std::numbers::pi); }

/// The upper tail by Taylor's series about the nearest of equal steps: a fifth of the price of erfc, which a forecast
/// asks for ten thousand times. With |d| the distance to the step, at most 1/64, what the series leaves out is below
/// (x d)^10 / 10! of the tail, 2e-15 at x = 9; beyond that erfc itself answers.
class NormalTail {
 public:
  static const NormalTail& table();

  /// Probability above x >= 0.
  double above(double x) const {
    if (!(x < reach)) return 0.5 * std::erfc(x / std::numbers::sqrt2);
    const int step = static_cast<int>((x + half_step) * steps_per_sd);
    const auto& row = rows_[static_cast<std::size_t>(step)];
    const double d = x - step * (1.0 / steps_per_sd), dd = d * d;
    // Even and odd powers apart: two short chains of operations in place of a long one.
    const double even = row[0] + dd * (row[2] + dd * (row[4] + dd * (row[6] + dd * row[8])));
    const double odd = row[1] + dd * (row[3] + dd * (row[5] + dd * (row[7] + dd * row[9])));
    return even + d * odd;
  }
  double below(double z) const { return z > 0 ? 1 - above(z) : above(-z); }

 private:
  static constexpr double reach = 9;
  static constexpr int steps_per_sd = 32;
  static constexpr double half_step = 0.5 / steps_per_sd;

  NormalTail();
  std::vector<std::array<double, 10>> rows_;  ///< by step: coefficients of the powers of d
};

inline double normal_below(double z) { return NormalTail::table().below(z); }

/// Probability between a and b, a <= b; taken in the tail where both lie, so that nothing cancels.
inline double normal_between(double a, double b) {
  return a > 0 ? normal_below(-a) - normal_below(-b) : normal_below(b) - normal_below(a);
}

/// The inverse of normal_below, for p in (0, 1).
double normal_quantile(double p);

}  // namespace cellarer::life
