// SPDX-License-Identifier: MIT
#include "model/life/learning.hpp"

#include <Eigen/Dense>
#include <cmath>

namespace cellarer::life {

namespace {

constexpr double household_log_sd = 0.05, side_log_sd = 0.03, set_log_sd = 0.04;
constexpr double drift_log_sd_per_month = 0.01;

// Places in the joint vector: household, the two sides, then for each unit its channels' use and bias.
constexpr Eigen::Index household_place = 0;
Eigen::Index side_place(Side side) { return side == Side::left ? 1 : 2; }
Eigen::Index channel_place(Side side, std::size_t unit) {
  return 3 + 4 * static_cast<Eigen::Index>(unit) + (side == Side::left ? 0 : 2);
}
Eigen::Index bias_place(Side side, std::size_t unit) { return channel_place(side, unit) + 1; }

}  // namespace

Learning::Learning(const std::vector<UnitInUse>& units) {
  const auto size = 3 + 4 * static_cast<Eigen::Index>(units.size());
  mean_ = Eigen::VectorXd::Zero(size);
  first_variance_ = Eigen::VectorXd::Zero(size);
  first_variance_[household_place] = household_log_sd * household_log_sd;
  for (const auto side : both_sides) {
    first_variance_[side_place(side)] = side_log_sd * side_log_sd;
    for (std::size_t unit = 0; unit < units.size(); ++unit) {
      const auto& stimulator = units[unit].stimulator;
      first_variance_[channel_place(side, unit)] = stimulator.relative_sd * stimulator.relative_sd;
      first_variance_[bias_place(side, unit)] = stimulator.gauge.bias_points * stimulator.gauge.bias_points;
    }
  }
  cov_ = first_variance_.asDiagonal();
}

Eigen::MatrixXd Learning::loadings(Side side, std::size_t unit) const {
  Eigen::MatrixXd loading = Eigen::MatrixXd::Zero(2, mean_.size());
  loading(0, household_place) = 1;
  loading(0, side_place(side)) = 1;
  loading(0, channel_place(side, unit)) = 1;
  loading(1, bias_place(side, unit)) = 1;
  return loading;
}

UsePrior Learning::prior(Side side, std::size_t unit) const {
  const auto loading = loadings(side, unit);
  const Eigen::Vector2d mean = loading * mean_;
  const Eigen::Matrix2d cov = loading * cov_ * loading.transpose();
  return {mean[0], std::sqrt(cov(0, 0) + set_log_sd * set_log_sd), mean[1], std::sqrt(cov(1, 1)), cov(0, 1)};
}

void Learning::learn(Side side, std::size_t unit, const UsePrior& prior, const UseMoments& posterior) {
  const auto loading = loadings(side, unit);
  Eigen::Matrix2d before, after;
  before << prior.sd * prior.sd, prior.use_bias_cov, prior.use_bias_cov, prior.bias_sd * prior.bias_sd;
  after << posterior.variance, posterior.use_bias_cov, posterior.use_bias_cov, posterior.bias_variance;
  const Eigen::Vector2d moved(posterior.mean - prior.mean, posterior.bias_mean - prior.bias_mean);
  const Eigen::MatrixXd gain = cov_ * loading.transpose() * before.inverse();
  mean_ += gain * moved;
  cov_ -= gain * (before - after) * gain.transpose();
  cov_ = 0.5 * (cov_ + cov_.transpose()).eval();
  ++sets_seen_[side == Side::left ? 0 : 1];
}

void Learning::pass_time(double days) {
  const double added = drift_log_sd_per_month * drift_log_sd_per_month * days / 30;
  for (Eigen::Index i = side_place(Side::left); i < mean_.size(); ++i) {
    const bool bias = i >= 3 && (i - 3) % 2 == 1;
    // Never wider than where it began: a long pause teaches nothing, but forgets no more than everything.
    if (!bias && cov_(i, i) + added < first_variance_[i]) cov_(i, i) += added;
  }
}

}  // namespace cellarer::life
