// SPDX-License-Identifier: MIT
#pragma once
#include <Eigen/Core>

/// Ridge regression: the yardstick against which a fitted model has to show that its physics earns its keep.
namespace cellarer::numerics {

/// y = mean_y + (x - mean_x) B, with B minimising |Y - X B|^2 + penalty |B|^2 on centred rows. The intercept is
/// not penalised. X: n x p, one row an example; Y: n x q; penalty > 0, in the units of X squared.
/// Source: Hoerl and Kennard, Technometrics 12 (1970), p. 55.
class Ridge {
 public:
  Ridge(const Eigen::MatrixXd& x, const Eigen::MatrixXd& y, double penalty);
  Eigen::RowVectorXd predict(const Eigen::RowVectorXd& x) const;

 private:
  Eigen::RowVectorXd mean_x_, mean_y_;
  Eigen::MatrixXd coefficients_;
};

/// The penalty of `count` ones, spaced evenly in the logarithm from `lowest` to `highest`, that predicts rows
/// left out one at a time with the least mean absolute error. Needs three rows or more.
double best_penalty(const Eigen::MatrixXd& x, const Eigen::MatrixXd& y, double lowest, double highest, int count);

}  // namespace cellarer::numerics
