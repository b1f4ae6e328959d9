// SPDX-License-Identifier: MIT
#include "model/life/stretched_depth.hpp"

#include <algorithm>

namespace cellarer::life {

double stretch(double curve_depth, double cutoff_depth) {
  constexpr double begins = 0.5;
  return std::max(curve_depth - begins * cutoff_depth, 0.0) / (1 - begins);
}

DepthScale::DepthScale(const LoadTable& table, double lambda) : table_(&table), stretched_(lambda - 1) {
  const auto& bend = table.bend();
  begins_ = bend.from;
  per_bending_ = 1 / (1 + stretched_ * bend.in);
  per_bent_ = 1 / (1 + stretched_ * bend.beyond);
  way_bent_ = bend.to;
  bent_ = bend.from + (bend.to - bend.from) * (1 + stretched_ * bend.in);
}

}  // namespace cellarer::life
