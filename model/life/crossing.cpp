// SPDX-License-Identifier: MIT
#include "model/life/crossing.hpp"

#include <algorithm>
#include <cassert>

#include "model/life/normal.hpp"

namespace cellarer::life {

namespace {

/// Beyond so many standard deviations a term is nought or its weight to more than double precision.
constexpr double most_z = 9;

}  // namespace

CrossingDistribution::CrossingDistribution(std::vector<Crossing> crossings, double survived_mAh) {
  places_.reserve(crossings.size());
  seen_.reserve(crossings.size());
  for (const auto& [charge_mAh, sd_mAh, weight] : crossings) {
    const double z = (survived_mAh - charge_mAh) / sd_mAh;
    const bool matters = z >= -most_z;
    places_.push_back({charge_mAh, 1 / sd_mAh, weight});
    seen_.push_back({survived_mAh, z, matters ? normal_below(z > 0 ? -z : z) : 0.0,
                     matters ? std::max(normal_below(-z), 1e-300) : 1.0});
  }
}

/// normal_between(seen, z) of those not crossed when seen, taken in the tail where both lie.
double CrossingDistribution::of_term(std::size_t k, double z, double charge_mAh) const {
  const auto& seen = seen_[k];
  if (charge_mAh <= seen.survived_mAh) return 0;
  if (z > most_z) return 1;
  if (seen.z < -most_z) return normal_below(z);
  return (seen.z > 0 ? seen.below - normal_below(-z) : normal_below(z) - seen.below) / seen.alive;
}

double CrossingDistribution::by(double charge_mAh) const {
  double probability = 0;
  for (std::size_t k = 0; k < places_.size(); ++k) {
    const auto& place = places_[k];
    const double z = (charge_mAh - place.charge_mAh) * place.per_sd_mAh;
    if (z >= -most_z) probability += place.weight * of_term(k, z, charge_mAh);
  }
  return std::min(probability, 1.0);
}

double CrossingDistribution::charge(double probability) const {
  assert(!places_.empty() && probability > 0 && probability < 1);
  double low = 0, high = 0;
  for (const auto& place : places_) {
    low = std::min(low, place.charge_mAh - most_z / place.per_sd_mAh);
    high = std::max(high, place.charge_mAh + most_z / place.per_sd_mAh);
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
  CrossingDistribution mixed(*this);
  for (auto& place : mixed.places_) place.weight *= share;
  for (auto place : other.places_) {
    place.weight *= 1 - share;
    place.charge_mAh += origin_mAh;
    mixed.places_.push_back(place);
  }
  for (auto seen : other.seen_) {
    seen.survived_mAh += origin_mAh;
    mixed.seen_.push_back(seen);
  }
  return mixed;
}

}  // namespace cellarer::life
