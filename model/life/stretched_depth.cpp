// SPDX-License-Identifier: MIT
#include "model/life/stretched_depth.hpp"

#include <algorithm>

namespace cellarer::life {

namespace {

constexpr std::size_t last = LoadTable::points - 1;

}  // namespace

double stretch(double curve_depth, double cutoff_depth) {
  constexpr double begins = 0.5;
  return std::max(curve_depth - begins * cutoff_depth, 0.0) / (1 - begins);
}

DepthScale::DepthScale(const LoadTable& table, double lambda) {
  for (std::size_t i = 0; i <= last; ++i) travelled_[i] = table.way()[i] + (lambda - 1) * table.stretch()[i];
}

double DepthScale::travelled(double curve_depth) const {
  const double position = std::clamp(curve_depth, 0.0, 1.0) * last;
  const auto index = std::min(static_cast<std::size_t>(position), last - 1);
  return travelled_[index] + (position - static_cast<double>(index)) * (travelled_[index + 1] - travelled_[index]);
}

double DepthScale::depth(double travelled) const {
  // The way is nearly straight: from where it would be on a straight line, a few steps lead to the place.
  const double guess = std::clamp(travelled / travelled_[last], 0.0, 1.0) * last;
  auto index = std::min(static_cast<std::size_t>(guess), last - 1);
  while (index > 0 && travelled_[index] > travelled) --index;
  while (index + 1 < last && travelled_[index + 1] < travelled) ++index;
  const double share = (travelled - travelled_[index]) / (travelled_[index + 1] - travelled_[index]);
  return std::clamp((static_cast<double>(index) + share) / last, 0.0, 1.0);
}

}  // namespace cellarer::life
