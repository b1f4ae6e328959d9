// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

namespace cellarer::review {

/// The Bayes factor of a fault of unknown size over "nothing is wrong", in closed form.
///
///     y = size * pattern + natural effects,      size ~ N(mean, sd^2)
///     A = q'q,  B = q'z        q, z: pattern and data made independent (effects.hpp)
///     ln BF = ((B + mean / sd^2)^2 / (A + 1 / sd^2) - mean^2 / sd^2 - ln(1 + sd^2 A)) / 2
///
/// A and B are sums over rows: what was known after n rows are the sums of the first n, and sums of several households
/// (a lot, a unit that moved) simply add. Kass and Raftery, J. Am. Stat. Assoc. 90 (1995), 773, eq. 1.
struct Sums {
  double square = 0;   ///< A
  double product = 0;  ///< B
  Sums& operator+=(const Sums& other);
  Sums operator+(const Sums& other) const { return Sums(*this) += other; }
};

/// The size that is believed before the data.
struct Size {
  double mean = 0;
  double sd = 0.06;
};

double log_bayes_factor(const Sums& sums, const Size& prior);

/// The size given the data, if the fault is there.
Size posterior_size(const Sums& sums, const Size& prior);

/// ln(sum of e^x), without overflow; -infinity of none.
double log_sum(const std::vector<double>& logs);

}  // namespace cellarer::review
