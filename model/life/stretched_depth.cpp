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
  static_assert(last <= 256, "a step is kept as one octet");
  for (std::size_t i = 0; i <= last; ++i) travelled_[i] = table.way()[i] + (lambda - 1) * table.stretch()[i];
  bins_per_way_ = bins / travelled_[last];
  std::size_t step = 0;
  for (std::size_t bin = 0; bin < bins; ++bin) {
    const double begins = static_cast<double>(bin) / bins_per_way_;
    while (step + 1 < last && travelled_[step + 1] < begins) ++step;
    first_[bin] = static_cast<std::uint8_t>(step);
  }
}

double DepthScale::travelled(double curve_depth) const {
  const double position = std::clamp(curve_depth, 0.0, 1.0) * last;
  const auto index = std::min(static_cast<std::size_t>(position), last - 1);
  return travelled_[index] + (position - static_cast<double>(index)) * (travelled_[index + 1] - travelled_[index]);
}

CurvePlace DepthScale::place(double travelled) const {
  if (travelled <= 0) return {0, 0};
  if (travelled >= travelled_[last]) return {last - 1, 1};
  const auto bin = std::min(static_cast<std::size_t>(travelled * bins_per_way_), bins - 1);
  std::size_t index = first_[bin];
  while (index > 0 && travelled_[index] > travelled) --index;  // a bin's edge, to the last bit
  while (index + 1 < last && travelled_[index + 1] < travelled) ++index;
  return {index, (travelled - travelled_[index]) / (travelled_[index + 1] - travelled_[index])};
}

}  // namespace cellarer::life
