// SPDX-License-Identifier: MIT
#include "model/life/pooling.hpp"

#include <Eigen/Dense>
#include <cmath>

#include "model/quantities/square.hpp"

namespace cellarer::life {

namespace {

using Kind = PooledPlace::Kind;

/// Places of one kind and model: drawn from one normal distribution.
struct Group {
  double mean = 0, variance = 0;              ///< as estimated so far
  double first_mean = 0, first_variance = 0;  ///< as assumed
  double mean_variance = 0;                   ///< prior of the mean; nought: it is held at `first_mean`
  double places = 0, sum = 0, sum_of_squares = 0;
  double shared_variance = 0;  ///< sum of the posterior covariances of its places, home by home

  void see(double place_mean, double place_variance) {
    places += 1;
    sum += place_mean;
    sum_of_squares += square(place_mean) + place_variance;
  }
  /// Variance of the mean, given the spread: what the places would tell if they were known, less what is not known of
  /// them (Louis 1982).
  double uncertainty() const {
    if (mean_variance <= 0) return 0;
    return 1 / (places / variance - shared_variance / square(variance) + 1 / mean_variance);
  }
  void maximise(double assumed_places) {
    if (places == 0 || variance <= 0) return;
    if (mean_variance > 0) {
      mean = (sum / variance + first_mean / mean_variance) / (places / variance + 1 / mean_variance);
    }
    const double about_mean = sum_of_squares - 2 * mean * sum + places * square(mean);
    variance = (assumed_places * first_variance + about_mean) / (assumed_places + places);
  }
  void forget() { places = sum = sum_of_squares = shared_variance = 0; }
};

using Groups = std::map<std::pair<Kind, std::string>, Group>;

double known_or_profile(double known_sd, const PooledPlace& place) {
  return known_sd < 0 ? place.profile_sd : known_sd;
}

Group first_group(const PooledPlace& place, const AgencyKnowledge& first, const PoolingWeight& weight) {
  const auto model = first.model(place.model);
  Group group;
  switch (place.kind) {
    case Kind::household:
      group.first_variance = square(first.household_log_sd);
      break;
    case Kind::side:
      group.first_variance = square(first.side_log_sd);
      break;
    case Kind::channel_use:
      group.first_mean = model.use_mean;
      group.first_variance = square(known_or_profile(model.channel_log_sd, place));
      group.mean_variance = square(weight.mean_sd);
      break;
    case Kind::channel_bias:
      group.first_mean = model.bias_mean_points;
      group.first_variance = square(known_or_profile(model.bias_sd_points, place));
      group.mean_variance = square(weight.bias_mean_sd_points);
      break;
    case Kind::exponent:
      group.first_mean = model.exponent_mean;
      group.first_variance = square(model.exponent_sd);
      group.mean_variance = square(weight.exponent_mean_sd);
      break;
  }
  group.mean = group.first_mean;
  group.variance = group.first_variance;
  return group;
}

/// One home: its posterior under the groups as they stand, added to what the groups have seen.
void expect(const Evidence& home, Groups& groups) {
  const auto size = home.information.rows();
  Eigen::MatrixXd precision = home.information;
  Eigen::VectorXd pull = home.pull;
  for (Eigen::Index i = 0; i < size; ++i) {
    const auto& place = home.places[static_cast<std::size_t>(i)];
    const auto& group = groups.at({place.kind, place.model});
    precision(i, i) += 1 / group.variance;
    pull[i] += group.mean / group.variance;
  }
  const Eigen::MatrixXd covariance = precision.ldlt().solve(Eigen::MatrixXd::Identity(size, size));
  const Eigen::VectorXd mean = covariance * pull;
  for (Eigen::Index i = 0; i < size; ++i) {
    if (home.information(i, i) <= 0) continue;  // nothing was seen of it: it repeats the group
    const auto& place = home.places[static_cast<std::size_t>(i)];
    auto& group = groups.at({place.kind, place.model});
    group.see(mean[i], covariance(i, i));
    for (Eigen::Index j = 0; j < size; ++j) {
      const auto& other = home.places[static_cast<std::size_t>(j)];
      const bool same_group = other.kind == place.kind && other.model == place.model;
      if (same_group && home.information(j, j) > 0) group.shared_variance += covariance(i, j);
    }
  }
}

}  // namespace

bool Evidence::tells_something() const { return information.size() > 0 && information.trace() > 0; }

AgencyKnowledge pool(const std::vector<Evidence>& homes, const AgencyKnowledge& first, const PoolingWeight& weight) {
  Groups groups;
  std::map<std::string, NoiseSeen> noise;
  for (const auto& home : homes) {
    for (const auto& place : home.places) {
      groups.try_emplace({place.kind, place.model}, first_group(place, first, weight));
    }
    for (const auto& [model, seen] : home.noise) {
      auto& sum = noise.try_emplace(model, NoiseSeen{0, 0}).first->second;
      sum.variance += seen.variance * seen.readings;
      sum.readings += seen.readings;
    }
  }
  for (int round = 0; round < weight.rounds; ++round) {
    for (auto& [key, group] : groups) group.forget();
    for (const auto& home : homes) {
      if (home.tells_something()) expect(home, groups);
    }
    for (auto& [key, group] : groups) group.maximise(weight.homes);
  }
  AgencyKnowledge pooled = first;
  for (const auto& [key, group] : groups) {
    if (group.places == 0) continue;  // nothing was seen: as assumed
    const auto& [kind, model] = key;
    if (kind == Kind::household) pooled.household_log_sd = std::sqrt(group.variance);
    if (kind == Kind::side) pooled.side_log_sd = std::sqrt(group.variance);
    if (kind == Kind::household || kind == Kind::side) continue;
    auto& known = pooled.models.try_emplace(model, first.model(model)).first->second;
    const double next_sd = std::sqrt(group.variance + group.uncertainty());
    if (kind == Kind::channel_use) {
      known.use_mean = group.mean;
      known.channel_log_sd = next_sd;
    } else if (kind == Kind::channel_bias) {
      known.bias_mean_points = group.mean;
      known.bias_sd_points = next_sd;
    } else {
      known.exponent_mean = group.mean;
      known.exponent_sd = next_sd;
    }
  }
  for (const auto& [model, seen] : noise) {
    auto& known = pooled.models.try_emplace(model, first.model(model)).first->second;
    const double first_variance = square(first.model(model).gauge_noise_scale);
    const double together = weight.readings * first_variance + seen.variance;
    known.gauge_noise_scale = std::sqrt(std::max(together / (weight.readings + seen.readings), 0.01));
  }
  return pooled;
}

}  // namespace cellarer::life
