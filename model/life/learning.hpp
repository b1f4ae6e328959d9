// SPDX-License-Identifier: MIT
#pragma once
#include <Eigen/Core>
#include <vector>

#include "model/life/set_posterior.hpp"

namespace cellarer::life {

/// What a household's ended sets teach about its next ones.
///
///     log use of a set = household + side + unit's channel + set        (each normal, about nought at first)
///     gauge of a set   = bias of the unit's channel, the same for all its sets
///
/// One joint Gaussian over all of these. A set is seen through two numbers, its log use and its channel's bias, of
/// which its posterior gives mean and covariance; the joint Gaussian is moved so that its marginal over the two
/// agrees with that (exact where the set's posterior is Gaussian). Use and bias stay correlated until something
/// tells them apart: sets that all come out early cannot, a warning, a run-out or a voltmeter can.
///
/// Standard deviations, in log use: household 0.05, side 0.03, set 0.04 (assumptions until an agency's own history
/// replaces them); channel and bias are the profile's `relative_sd` and `bias_points`.
class Learning {
 public:
  explicit Learning(const std::vector<UnitInUse>& units);

  /// For the next set of this side in this unit.
  UsePrior prior(Side side, std::size_t unit) const;
  /// A set has ended: `prior` is what it started from, `posterior` what it showed.
  void learn(Side side, std::size_t unit, const UsePrior& prior, const UseMoments& posterior);
  /// Units and habits drift: side and channel widen by 1 % in 30 days (as a random walk).
  void pass_time(double days);

  int sets_seen(Side side) const { return sets_seen_[side == Side::left ? 0 : 1]; }

 private:
  Eigen::VectorXd mean_;
  Eigen::MatrixXd cov_;
  Eigen::VectorXd first_variance_;
  std::array<int, 2> sets_seen_{};

  Eigen::MatrixXd loadings(Side side, std::size_t unit) const;
};

}  // namespace cellarer::life
