// SPDX-License-Identifier: MIT
#include "model/life/crossing.hpp"

#include <algorithm>
#include <cassert>

#include "model/life/normal.hpp"

namespace cellarer::life {

CrossingDistribution::CrossingDistribution(std::vector<Crossing> crossings, double survived_mAh) {
  terms_.reserve(crossings.size());
  for (auto& crossing : crossings) {
    crossing.survived_mAh = survived_mAh;
    const double seen = (survived_mAh - crossing.charge_mAh) / crossing.sd_mAh;
    const bool matters = seen >= -9;
    terms_.push_back({crossing, seen, matters ? normal_below(seen > 0 ? -seen : seen) : 0.0,
                      matters ? std::max(normal_below(-seen), 1e-300) : 1.0});
  }
}

double CrossingDistribution::by(double charge_mAh) const {
  double probability = 0;
  for (const auto& [crossing, seen, before_seen, alive] : terms_) {
    if (charge_mAh <= crossing.survived_mAh) continue;
    const double z = (charge_mAh - crossing.charge_mAh) / crossing.sd_mAh;
    // Beyond nine standard deviations the term is nought or its weight to more than double precision.
    if (z < -9) continue;
    if (z > 9)
      probability += crossing.weight;
    else if (seen < -9)
      probability += crossing.weight * normal_below(z);
    else  // normal_between(seen, z), taken in the tail where both lie
      probability +=
          crossing.weight * (seen > 0 ? before_seen - normal_below(-z) : normal_below(z) - before_seen) / alive;
  }
  return std::min(probability, 1.0);
}

double CrossingDistribution::charge(double probability) const {
  assert(!terms_.empty() && probability > 0 && probability < 1);
  double low = 0, high = 0;
  for (const auto& term : terms_) {
    low = std::min(low, term.crossing.charge_mAh - 9 * term.crossing.sd_mAh);
    high = std::max(high, term.crossing.charge_mAh + 9 * term.crossing.sd_mAh);
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
  CrossingDistribution mixed;
  mixed.terms_.reserve(terms_.size() + other.terms_.size());
  for (auto term : terms_) {
    term.crossing.weight *= share;
    mixed.terms_.push_back(term);
  }
  for (auto term : other.terms_) {
    term.crossing.weight *= 1 - share;
    term.crossing.charge_mAh += origin_mAh;
    term.crossing.survived_mAh += origin_mAh;
    mixed.terms_.push_back(term);
  }
  return mixed;
}

}  // namespace cellarer::life
