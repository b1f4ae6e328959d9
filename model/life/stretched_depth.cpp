// SPDX-License-Identifier: MIT
#include "model/life/stretched_depth.hpp"

#include <algorithm>

#include "model/numerics/lanes.hpp"

namespace cellarer::life {

double stretch(double curve_depth, double cutoff_depth) {
  constexpr double begins = 0.5;
  return std::max(curve_depth - begins * cutoff_depth, 0.0) / (1 - begins);
}

DepthScale::DepthScale(const LoadTable& table, double lambda) {
  static_assert(last <= 256, "a step is kept as one octet");
  using numerics::load;
  const auto &way = table.way(), &stretch = table.stretch();
  for (std::size_t i = 0; i + 1 <= last; i += numerics::lane_count)
    numerics::store(&travelled_[i], load(&way[i]) + (lambda - 1) * load(&stretch[i]));
  travelled_[last] = way[last] + (lambda - 1) * stretch[last];
  bins_per_way_ = bins / travelled_[last];
  // In each bin how many steps end before it begins, then summed up.
  for (std::size_t step = 0; step + 1 < last; ++step) {
    const auto after = static_cast<std::size_t>(static_cast<int>(travelled_[step + 1] * bins_per_way_) + 1);
    if (after < bins) ++first_[after];
  }
  unsigned passed = 0;
  for (auto& steps : first_) steps = static_cast<std::uint8_t>(passed += steps);
}

double DepthScale::travelled(double curve_depth) const {
  const double position = std::clamp(curve_depth, 0.0, 1.0) * last;
  const auto index = std::min(static_cast<std::size_t>(position), last - 1);
  return travelled_[index] + (position - static_cast<double>(index)) * (travelled_[index + 1] - travelled_[index]);
}

}  // namespace cellarer::life
