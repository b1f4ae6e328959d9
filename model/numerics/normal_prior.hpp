// SPDX-License-Identifier: MIT
#pragma once
#include <ceres/ceres.h>
#include <ceres/normal_prior.h>
#include <Eigen/Cholesky>
#include <Eigen/Core>

/// A multivariate normal prior as a cost of least squares: the cost is half of (p - m)' C^-1 (p - m).
namespace cellarer::numerics {

/// `covariance` positive definite (asserted). The caller, or the ceres::Problem it is given to, owns the result.
inline ceres::CostFunction* normal_prior_cost(const Eigen::VectorXd& mean, const Eigen::MatrixXd& covariance) {
  const Eigen::LLT<Eigen::MatrixXd> factor(covariance);
  eigen_assert(factor.info() == Eigen::Success);
  // |L^-1 (p - m)|^2 = (p - m)' C^-1 (p - m) for C = L L'.
  const Eigen::MatrixXd identity = Eigen::MatrixXd::Identity(covariance.rows(), covariance.cols());
  const Eigen::MatrixXd whitening = factor.matrixL().solve(identity);
  return new ceres::NormalPrior(whitening, mean);
}

}  // namespace cellarer::numerics
