// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <vector>

#include "model/numerics/lanes.hpp"

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

/// The upper tails of four numbers x >= 0 at once, from their `bell` = e^(-x^2 / 2), which their density wants too:
///
///     tail = bell erfcx(u) / 2,  u = x / sqrt 2,  erfcx(u) (1 + 2 u) = a polynomial of t = (u - 3.75) / (u + 3.75)
///
/// Source: Shepherd and Laframboise 1981, Math. Comp. 36, 249, for the form; the coefficients are those of its
/// Chebyshev series to t^23, reckoned with 50 digits. What the series leaves out is below 1e-16 of the tail.
CELLARER_INLINE numerics::Lanes tail_above(numerics::Lanes x, numerics::Lanes bell) {
  constexpr double c[] = {
      1.2375126308378275,     -0.14024059858554697,    0.0035854154854790257,   0.0822767384901452,
      -0.10880393014244462,   0.09230432116037748,     -0.05869339857664934,    0.028362277418956406,
      -0.009746579683265262,  0.0017556258528952954,   0.000293714378044958,    -0.0002901540805408417,
      5.164652974177416e-05,  2.238423915508223e-05,   -1.1438048033346894e-05, -9.73559896736775e-07,
      1.7419821586224816e-06, -5.7218230603224086e-08, -2.4857126248016745e-07, 2.3263508708859124e-08,
      3.197926671666804e-08,  -3.744210080962018e-09,  -2.623107347133476e-09,  3.1114333809799254e-10};
  using Four = numerics::Lanes;
  const Four u = x * (1 / std::numbers::sqrt2), t = (u - 3.75) / (u + 3.75), tt = t * t, t4 = tt * tt;
  // Four short chains of operations in place of a long one, written out so that they stay in registers.
  const Four none = ((((c[20] * t4 + c[16]) * t4 + c[12]) * t4 + c[8]) * t4 + c[4]) * t4 + c[0];
  const Four one = ((((c[21] * t4 + c[17]) * t4 + c[13]) * t4 + c[9]) * t4 + c[5]) * t4 + c[1];
  const Four two = ((((c[22] * t4 + c[18]) * t4 + c[14]) * t4 + c[10]) * t4 + c[6]) * t4 + c[2];
  const Four three = ((((c[23] * t4 + c[19]) * t4 + c[15]) * t4 + c[11]) * t4 + c[7]) * t4 + c[3];
  const Four series = (none + t * one) + tt * (two + t * three);
  return 0.5 * bell * series / (1 + 2 * u);
}

/// Probability between a and b, a <= b; taken in the tail where both lie, so that nothing cancels.
inline double normal_between(double a, double b) {
  return a > 0 ? normal_below(-a) - normal_below(-b) : normal_below(b) - normal_below(a);
}

/// The inverse of normal_below, for p in (0, 1).
double normal_quantile(double p);

}  // namespace cellarer::life
