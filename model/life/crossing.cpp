// SPDX-License-Identifier: MIT
#include "model/life/crossing.hpp"

#include <algorithm>
#include <cassert>

#include "model/life/normal.hpp"

namespace cellarer::life {

CrossingDistribution::CrossingDistribution(std::vector<Crossing> crossings, double survived_mAh)
    : crossings_(std::move(crossings)) {
  for (auto& crossing : crossings_) crossing.survived_mAh = survived_mAh;
}

double CrossingDistribution::by(double charge_mAh) const {
  double probability = 0;
  for (const auto& crossing : crossings_) {
    if (charge_mAh <= crossing.survived_mAh) continue;
    const double z = (charge_mAh - crossing.charge_mAh) / crossing.sd_mAh;
    // Beyond nine standard deviations the term is nought or its weight to more than double precision.
    if (z < -9) continue;
    const double seen = (crossing.survived_mAh - crossing.charge_mAh) / crossing.sd_mAh;
    if (z > 9)
      probability += crossing.weight;
    else if (seen < -9)
      probability += crossing.weight * normal_below(z);
    else
      probability += crossing.weight * normal_between(seen, z) / std::max(normal_below(-seen), 1e-300);
  }
  return std::min(probability, 1.0);
}

double CrossingDistribution::charge(double probability) const {
  assert(!crossings_.empty() && probability > 0 && probability < 1);
  double low = 0, high = 0;
  for (const auto& crossing : crossings_) {
    low = std::min(low, crossing.charge_mAh - 9 * crossing.sd_mAh);
    high = std::max(high, crossing.charge_mAh + 9 * crossing.sd_mAh);
  }
  const double enough = 1e-4 * (high - low) + 1e-9;
  while (high - low > enough) {
    const double middle = 0.5 * (low + high);
    (by(middle) < probability ? low : high) = middle;
  }
  return low;
}

CrossingDistribution CrossingDistribution::mixed_with(const CrossingDistribution& other, double share,
                                                      double origin_mAh) const {
  std::vector<Crossing> all;
  all.reserve(crossings_.size() + other.crossings_.size());
  for (auto crossing : crossings_) {
    crossing.weight *= share;
    all.push_back(crossing);
  }
  for (auto crossing : other.crossings_) {
    crossing.weight *= 1 - share;
    crossing.charge_mAh += origin_mAh;
    crossing.survived_mAh += origin_mAh;
    all.push_back(crossing);
  }
  CrossingDistribution mixed;
  mixed.crossings_ = std::move(all);
  return mixed;
}

}  // namespace cellarer::life
