// SPDX-License-Identifier: MIT
#include "model/life/normal.hpp"

#include <boost/math/special_functions/erf.hpp>

namespace cellarer::life {

/// Derivatives of the density are Hermite's polynomials times it: He(n + 1) = x He(n) - n He(n - 1), He(0) = 1.
NormalTail::NormalTail() : rows_(static_cast<std::size_t>(reach * steps_per_sd) + 1) {
  for (std::size_t step = 0; step < rows_.size(); ++step) {
    const double x = static_cast<double>(step) / steps_per_sd, density = normal_density(x);
    auto& row = rows_[step];
    row[0] = 0.5 * std::erfc(x / std::numbers::sqrt2);
    double hermite = 1, before = 0, over_factorial = -1;
    for (std::size_t n = 1; n < row.size(); ++n) {
      const auto k = static_cast<double>(n);
      over_factorial /= k;
      row[n] = over_factorial * hermite * density;
      over_factorial = -over_factorial;
      const double next = x * hermite - (k - 1) * before;
      before = hermite;
      hermite = next;
    }
  }
}

const NormalTail& NormalTail::table() {
  static const NormalTail made;
  return made;
}

double normal_quantile(double p) { return -std::numbers::sqrt2 * boost::math::erfc_inv(2 * p); }

}  // namespace cellarer::life
