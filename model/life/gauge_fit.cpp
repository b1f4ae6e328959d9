// SPDX-License-Identifier: MIT
#include "model/life/gauge_fit.hpp"

#include <algorithm>
#include <utility>

#include "model/life/normal.hpp"

namespace cellarer::life {

namespace {

constexpr double nearest_to_end = 1e-3;

}  // namespace

/// Moments of a truncated standard normal: E[z^k] = (k - 1) E[z^(k-2)] + (a^(k-1) f(a) - b^(k-1) f(b)) / P.
void GaugeFit::add(double from, double to) {
  const double low = std::min(from, 1 - nearest_to_end), high = std::max(to, nearest_to_end);
  if (high - low < nearest_to_end) {
    const double z = normal_quantile(std::clamp(0.5 * (low + high), nearest_to_end, 1 - nearest_to_end));
    excess += z * z - 1;
    readings += 1;
    return;
  }
  // An end that lies beyond all places contributes nothing: z^3 f(z) goes to nought.
  double square = 1, fourth = 0;
  for (const auto& [place, sign] : {std::pair{low, 1.0}, std::pair{high, -1.0}}) {
    if (place <= 0 || place >= 1) continue;
    const double z = normal_quantile(place), edge = sign * z * normal_density(z) / (high - low);
    square += edge;
    fourth += z * z * edge;
  }
  fourth += 3 * square;
  excess += square - 1;
  readings += 1 - 0.5 * (fourth - square * square);
}

}  // namespace cellarer::life
