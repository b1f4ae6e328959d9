// SPDX-License-Identifier: MIT
#include "model/life/crossing.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace cellarer::life {

namespace {

/// Beyond so many standard deviations a term is nought or its weight to more than double precision.
constexpr double most_z = 9;

}  // namespace

CrossingDistribution::CrossingDistribution(std::vector<Crossing> crossings, double survived_mAh) {
  const auto at = [](const Crossing& crossing) { return crossing.charge_mAh; };
  if (!std::ranges::is_sorted(crossings, {}, at)) std::ranges::sort(crossings, {}, at);
  InOrder order{survived_mAh, 0, {}};
  order.weight_before.reserve(crossings.size() + 1);
  double before = 0;
  for (const auto& crossing : crossings) {
    order.weight_before.push_back(before);
    before += crossing.weight;
    order.widest_sd_mAh = std::max(order.widest_sd_mAh, crossing.sd_mAh);
  }
  order.weight_before.push_back(before);
  in_order_ = std::move(order);
  places_.reserve(crossings.size());
  seen_.reserve(crossings.size());
  for (const auto& [charge_mAh, sd_mAh, weight] : crossings) {
    const double z = (survived_mAh - charge_mAh) / sd_mAh;
    const bool matters = z >= -most_z;
    places_.push_back({charge_mAh, 1 / sd_mAh, weight});
    seen_.push_back({survived_mAh, z, matters ? normal_below(z > 0 ? -z : z) : 0.0,
                     matters ? std::max(normal_below(-z), 1e-300) : 1.0});
  }
  extent_ = extent();
}

CrossingDistribution::Extent CrossingDistribution::extent() const {
  Extent all;
  double weight = 0, square_sum = 0;
  for (const auto& place : places_) {
    const double sd = 1 / place.per_sd_mAh, reach = most_z / place.per_sd_mAh;
    all.low = std::min(all.low, place.charge_mAh - reach);
    all.high = std::max(all.high, place.charge_mAh + reach);
    weight += place.weight;
    all.mean += place.weight * place.charge_mAh;
    square_sum += place.weight * (place.charge_mAh * place.charge_mAh + sd * sd);
  }
  all.mean /= weight;
  all.sd = std::sqrt(std::max(square_sum / weight - all.mean * all.mean, 0.0));
  return all;
}

/// normal_between(seen, z) of those not crossed when seen, taken in the tail where both lie.
inline double CrossingDistribution::of_term(std::size_t k, double z, double charge_mAh, const NormalTail& tail) const {
  const auto& seen = seen_[k];
  if (charge_mAh <= seen.survived_mAh) return 0;
  if (z > most_z) return 1;
  if (seen.z < -most_z) return tail.below(z);
  return (seen.z > 0 ? seen.below - tail.below(-z) : tail.below(z) - seen.below) / seen.alive;
}

double CrossingDistribution::by(double charge_mAh) const {
  const auto& tail = NormalTail::table();
  double probability = 0;
  std::size_t from = 0, to = places_.size();
  if (in_order_) {
    const double reach = most_z * in_order_->widest_sd_mAh;
    const auto first_beyond = [&](double charge) {
      const auto found = std::ranges::upper_bound(places_, charge, {}, &Place::charge_mAh);
      return static_cast<std::size_t>(found - places_.begin());
    };
    to = first_beyond(charge_mAh + reach);
    if (charge_mAh > in_order_->survived_mAh) from = first_beyond(charge_mAh - reach);
    probability = in_order_->weight_before[from];
  }
  for (std::size_t k = from; k < to; ++k) {
    const auto& place = places_[k];
    const double z = (charge_mAh - place.charge_mAh) * place.per_sd_mAh;
    if (z >= -most_z) probability += place.weight * of_term(k, z, charge_mAh, tail);
  }
  return std::min(probability, 1.0);
}

/// Whatever the mixture, its probabilities as those of one normal distribution lie near a straight line: a few steps
/// along it, each a little too long so that the charge is passed, close in from both sides.
CrossingDistribution::Bracket CrossingDistribution::bracket(double probability, Bracket all, double near_enough) const {
  constexpr int most_steps = 6;
  double sd = extent_.sd;
  const double wanted = normal_quantile(probability);
  double at = extent_.mean + sd * wanted, before = 0, z_before = 0;
  for (int step = 0; step < most_steps && all.above - all.below > near_enough; ++step) {
    if (!(at > all.below && at < all.above)) at = 0.5 * (all.below + all.above);
    const double reached = by(at);
    (reached < probability ? all.below : all.above) = at;
    if (!(reached > 1e-300 && reached < 1)) {
      at = all.below;  // too far out to tell how far
      continue;
    }
    const double z = normal_quantile(reached);
    if (step > 0 && z != z_before && (at - before) / (z - z_before) > 0) sd = (at - before) / (z - z_before);
    before = at;
    z_before = z;
    at += (wanted - z) * sd + (reached < probability ? 0.3 : -0.3) * near_enough;
  }
  return all;
}

double CrossingDistribution::charge(double probability) const {
  assert(!places_.empty() && probability > 0 && probability < 1);
  double low = extent_.low, high = extent_.high;
  const double enough = 1e-4 * (high - low) + 1e-9;
  auto known = bracket(probability, {low, high}, enough);
  while (high - low > enough) {
    const double middle = 0.5 * (low + high);
    if (middle > known.below && middle < known.above) (by(middle) < probability ? known.below : known.above) = middle;
    (middle <= known.below ? low : high) = middle;
  }
  return low;
}

CrossingDistribution CrossingDistribution::mixed_with(const CrossingDistribution& other, double share,
                                                      double origin_mAh) const {
  CrossingDistribution mixed(*this);
  mixed.in_order_.reset();
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
  mixed.extent_ = mixed.extent();
  return mixed;
}

}  // namespace cellarer::life
