// SPDX-License-Identifier: MIT
#include <Eigen/Dense>
#include <algorithm>

#include "model/life/learning.hpp"

namespace cellarer::life {

namespace {

/// A symmetric matrix without its negative part, and the vector within what is left. Time that passes widens a side, so
/// that what is known of it can come out a hair below nothing.
void keep_what_informs(Eigen::MatrixXd& information, Eigen::VectorXd& pull) {
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solver(information);
  const Eigen::VectorXd& values = solver.eigenvalues();
  const double least = 1e-9 * std::max(values.size() > 0 ? values.maxCoeff() : 0.0, 1e-9);
  Eigen::MatrixXd kept = Eigen::MatrixXd::Zero(information.rows(), information.cols());
  Eigen::VectorXd kept_pull = Eigen::VectorXd::Zero(pull.size());
  for (Eigen::Index i = 0; i < values.size(); ++i) {
    if (values[i] <= least) continue;
    const Eigen::VectorXd along = solver.eigenvectors().col(i);
    kept += values[i] * along * along.transpose();
    kept_pull += along.dot(pull) * along;
  }
  information = kept;
  pull = kept_pull;
}

}  // namespace

std::vector<std::pair<Eigen::Index, PooledPlace>> Learning::pooled_places() const {
  using Kind = PooledPlace::Kind;
  std::vector<std::pair<Eigen::Index, PooledPlace>> places{
      {0, {Kind::household}}, {1, {Kind::side}}, {2, {Kind::side}}};
  std::vector<std::size_t> models;
  for (std::size_t unit = 0; unit < stimulators_.size(); ++unit) {
    if (channels_of_unit_[unit] != unit) continue;  // a unit that came back
    const auto& stimulator = stimulators_[unit];
    for (const auto side : both_sides) {
      places.push_back({channel_place(side, unit), {Kind::channel_use, stimulator.id, stimulator.relative_sd}});
      places.push_back({bias_place(side, unit), {Kind::channel_bias, stimulator.id, stimulator.gauge.bias_points}});
    }
    if (std::find(models.begin(), models.end(), model_of_unit_[unit]) != models.end()) continue;
    models.push_back(model_of_unit_[unit]);
    places.push_back({exponent_place(unit), {Kind::exponent, stimulator.id}});
  }
  std::erase_if(places, [this](const auto& place) { return first_variance_[place.first] <= 0; });
  return places;
}

Evidence Learning::evidence() const {
  const auto places = pooled_places();
  const auto size = static_cast<Eigen::Index>(places.size());
  Eigen::MatrixXd covariance(size, size);
  Eigen::VectorXd mean(size), first_mean(size), first_precision(size);
  Evidence evidence;
  for (Eigen::Index i = 0; i < size; ++i) {
    const auto at = places[static_cast<std::size_t>(i)].first;
    evidence.places.push_back(places[static_cast<std::size_t>(i)].second);
    mean[i] = mean_[at];
    first_mean[i] = first_mean_[at];
    first_precision[i] = 1 / first_variance_[at];
    for (Eigen::Index j = 0; j < size; ++j) covariance(i, j) = cov_(at, places[static_cast<std::size_t>(j)].first);
  }
  // Posterior = what it started from times what was seen: in information form the second is a difference.
  const Eigen::MatrixXd precision = covariance.inverse();
  evidence.information = precision;
  evidence.information.diagonal() -= first_precision;
  evidence.information = 0.5 * (evidence.information + evidence.information.transpose()).eval();
  evidence.pull = precision * mean - first_precision.cwiseProduct(first_mean);
  keep_what_informs(evidence.information, evidence.pull);
  for (std::size_t unit = 0; unit < stimulators_.size(); ++unit) {
    if (channels_of_unit_[unit] != unit) continue;
    for (const auto side : both_sides) {
      const auto& channel = channels_[channel_index(side, unit)];
      if (channel.readings <= 0) continue;
      auto& seen = evidence.noise.try_emplace(stimulators_[unit].id, NoiseSeen{0, 0}).first->second;
      seen.variance = (seen.variance * seen.readings + channel.seen) / (seen.readings + channel.readings);
      seen.readings += channel.readings;
    }
  }
  return evidence;
}

}  // namespace cellarer::life
