// SPDX-License-Identifier: MIT
#pragma once
#include <cmath>
#include <numbers>

/// The standard normal distribution, with tails that keep their relative accuracy (erfc of the C library),
/// because the policy lives at one in a hundred thousand.
namespace cellarer::life {

inline double normal_density(double z) { return std::exp(-0.5 * z * z) / std::sqrt(2 * std::numbers::pi); }

inline double normal_below(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }

/// Probability between a and b, a <= b; taken in the tail where both lie, so that nothing cancels.
inline double normal_between(double a, double b) {
  return a > 0 ? normal_below(-a) - normal_below(-b) : normal_below(b) - normal_below(a);
}

/// The inverse of normal_below, for p in (0, 1).
double normal_quantile(double p);

}  // namespace cellarer::life
