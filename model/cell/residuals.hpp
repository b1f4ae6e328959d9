// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include <Eigen/Core>

#include "model/cell/fit.hpp"

/// The rows of one cell's least squares. Used by `fit` alone; a header of its own so that a test can hold
/// the derivatives against differences.
namespace cellarer::cell {

class Residuals {
 public:
  /// `prior_mean` gives the slope d ln hours / d cut-off with which a voltage error is weighed.
  Residuals(const PublishedCell& cell, const FitOptions& options, const Parameters& prior_mean);

  std::size_t rows() const { return rows_.size(); }
  /// Whitened and robust: what is squared and summed.
  Eigen::VectorXd evaluate(const Parameters& parameters) const;
  /// d evaluate / d parameters, by central differences: a curve is 200 steps, so this is cheap and exact enough.
  Eigen::MatrixXd derivatives(const Parameters& parameters) const;
  /// Fitted, residual and weight of every discharge, also of those not in the fit.
  std::vector<FittedPoint> points(const Parameters& parameters) const;

 private:
  struct Row {
    std::size_t place;  ///< in `discharges`
    double log_sd;
  };
  double log_residual(std::size_t place, const Curve& curve, const Parameters& parameters) const;

  const PublishedCell& cell_;
  std::vector<double> log_sd_;  ///< of every discharge
  std::vector<bool> in_fit_;
  std::vector<Row> rows_;
};

}  // namespace cellarer::cell
