// SPDX-License-Identifier: MIT
#include "model/life/stretched_depth.hpp"

#include <algorithm>
#include <cassert>

#include "model/duty/set_voltage.hpp"

namespace cellarer::life {

double stretched_depth(double curve_depth, double lambda) {
  assert(lambda >= 0.5 && lambda <= 1.6);
  constexpr double begins = 0.35, ends = 0.80;
  const double s = std::clamp((curve_depth - begins) / (ends - begins), 0.0, 1.0);
  const double share = s * s * (3 - 2 * s);
  return curve_depth * (1 + (lambda - 1) * share);
}

DepthScale::DepthScale(const duty::Stimulator& unit, const cell::Curve& curve, const duty::BreathLoad& pacing,
                       double lambda) {
  const double step = 1.0 / (points - 1);
  for (std::size_t i = 1; i < points; ++i) {
    const double middle = (static_cast<double>(i) - 0.5) * step;
    // Relative use moves the voltage by millivolts: the factor at the profile's own current is near enough.
    const double factor = duty::mean_converter_factor(unit, curve, pacing, 1.0, middle);
    const double charge = stretched_depth(static_cast<double>(i) * step, lambda) -
                          stretched_depth(static_cast<double>(i - 1) * step, lambda);
    travelled_[i] = travelled_[i - 1] + charge / factor;
  }
}

double DepthScale::travelled(double curve_depth) const {
  const double position = std::clamp(curve_depth, 0.0, 1.0) * (points - 1);
  const auto index = std::min(static_cast<std::size_t>(position), points - 2);
  return travelled_[index] + (position - static_cast<double>(index)) * (travelled_[index + 1] - travelled_[index]);
}

double DepthScale::depth(double travelled) const {
  const auto above = std::lower_bound(travelled_.begin() + 1, travelled_.end() - 1, travelled);
  const auto index = static_cast<std::size_t>(above - travelled_.begin());
  const double share = (travelled - travelled_[index - 1]) / (travelled_[index] - travelled_[index - 1]);
  return std::clamp((static_cast<double>(index - 1) + share) / (points - 1), 0.0, 1.0);
}

}  // namespace cellarer::life
