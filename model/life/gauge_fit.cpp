// SPDX-License-Identifier: MIT
#include "model/life/gauge_fit.hpp"

#include <algorithm>
#include <utility>

#include "model/life/normal.hpp"

namespace cellarer::life {

namespace {

/// Of w = min(z^2, c^2), c^2 being that of 2.5 % to each side.
constexpr double clipped_beyond = 0.025, clip = 3.841458820694124;
/// An interval of less probability is a number.
constexpr double narrow = 1e-3;

/// Integrals over a part of the standard normal: of 1, z^2 and z^4.
struct Part {
  double mass = 0, square = 0, fourth = 0;
};

/// Between two places. By parts: the integral of z^k f is k - 1 times that of z^(k-2) f, less z^(k-1) f at the ends. An
/// end beyond all places contributes nothing: z^3 f(z) goes to nought.
Part between(double from, double to) {
  if (!(from < to)) return {};
  Part part{to - from, to - from, 0};
  double of_fourth = 0;
  for (const auto& [place, sign] : {std::pair{from, 1.0}, std::pair{to, -1.0}}) {
    if (place <= 0 || place >= 1) continue;
    const double z = normal_quantile(place), edge = sign * z * normal_density(z);
    part.square += edge;
    of_fourth += z * z * edge;
  }
  part.fourth = 3 * part.square + of_fourth;
  return part;
}

/// E[w], and its covariance with z^2, of what lies between two places.
struct Clipped {
  double mean, covariance;
};

Clipped clipped(double from, double to) {
  const Part inside = between(std::max(from, clipped_beyond), std::min(to, 1 - clipped_beyond)),
             below = between(from, std::min(to, clipped_beyond)),
             above = between(std::max(from, 1 - clipped_beyond), to);
  const double mass = inside.mass + below.mass + above.mass;
  const double outside_square = below.square + above.square;
  const double mean = (inside.square + clip * (below.mass + above.mass)) / mass;
  const double both = (inside.fourth + clip * outside_square) / mass;
  return {mean, both - mean * (inside.square + outside_square) / mass};
}

}  // namespace

void GaugeFit::add(double from, double to) {
  static const Clipped all = clipped(0, 1);
  if (to - from < narrow) {
    const double place = 0.5 * (from + to);
    const bool beyond = place < clipped_beyond || place > 1 - clipped_beyond;
    const double z = beyond ? 0 : normal_quantile(place);
    excess += ((beyond ? clip : z * z) - all.mean) * 2 / all.covariance;
    readings += 1;
    return;
  }
  const auto here = clipped(from, to);
  excess += (here.mean - all.mean) * 2 / all.covariance;
  readings += 1 - here.covariance / all.covariance;
}

}  // namespace cellarer::life
