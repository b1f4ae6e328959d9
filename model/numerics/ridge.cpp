// SPDX-License-Identifier: MIT
#include "model/numerics/ridge.hpp"

#include <cmath>
#include <limits>

#include <Eigen/Cholesky>

namespace cellarer::numerics {

namespace {

Eigen::MatrixXd without_row(const Eigen::MatrixXd& all, Eigen::Index row) {
  Eigen::MatrixXd rest(all.rows() - 1, all.cols());
  rest << all.topRows(row), all.bottomRows(all.rows() - 1 - row);
  return rest;
}

}  // namespace

Ridge::Ridge(const Eigen::MatrixXd& x, const Eigen::MatrixXd& y, double penalty)
    : mean_x_(x.colwise().mean()), mean_y_(y.colwise().mean()) {
  const Eigen::MatrixXd centred_x = x.rowwise() - mean_x_, centred_y = y.rowwise() - mean_y_;
  const Eigen::MatrixXd normal =
      centred_x.transpose() * centred_x + penalty * Eigen::MatrixXd::Identity(x.cols(), x.cols());
  coefficients_ = normal.llt().solve(centred_x.transpose() * centred_y);
}

Eigen::RowVectorXd Ridge::predict(const Eigen::RowVectorXd& x) const { return mean_y_ + (x - mean_x_) * coefficients_; }

double best_penalty(const Eigen::MatrixXd& x, const Eigen::MatrixXd& y, double lowest, double highest, int count) {
  double best = lowest, least = std::numeric_limits<double>::infinity();
  for (int i = 0; i < count; ++i) {
    const double penalty = lowest * std::pow(highest / lowest, static_cast<double>(i) / (count - 1));
    double error = 0;
    for (Eigen::Index row = 0; row < x.rows(); ++row) {
      const Ridge ridge(without_row(x, row), without_row(y, row), penalty);
      error += (ridge.predict(x.row(row)) - y.row(row)).cwiseAbs().mean();
    }
    if (error < least) least = error, best = penalty;
  }
  return best;
}

}  // namespace cellarer::numerics
