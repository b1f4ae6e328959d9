// SPDX-License-Identifier: MIT
#include "tests/bench/score/crps.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace cellarer::bench {

namespace {

/// Simpson's rule for (F - step)^2.
double squared(const std::function<double(double)>& below, double step, double from, double to, int intervals) {
  if (to <= from) return 0;
  const int pairs = std::max(1, intervals / 2);
  const double width = (to - from) / (2 * pairs);
  double sum = 0;
  for (int i = 0; i <= 2 * pairs; ++i) {
    const double off = below(from + i * width) - step;
    const double weight = i == 0 || i == 2 * pairs ? 1 : i % 2 == 1 ? 4 : 2;
    sum += weight * off * off;
  }
  return sum * width / 3;
}

}  // namespace

double crps(const std::function<double(double)>& below, double came_true, double from, double to, int intervals) {
  assert(from < to && intervals >= 4);
  // Outside the span F is nought or one, so the score grows with the distance to it.
  const double outside = std::max({from - came_true, came_true - to, 0.0});
  const double jump = std::clamp(came_true, from, to);
  const int before = static_cast<int>(std::lround(intervals * (jump - from) / (to - from)));
  return outside + squared(below, 0, from, jump, std::max(before, 2)) +
         squared(below, 1, jump, to, std::max(intervals - before, 2));
}

}  // namespace cellarer::bench
