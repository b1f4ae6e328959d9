// SPDX-License-Identifier: MIT
#pragma once
#include <Eigen/Core>
#include <memory>

/// What is believed of a gauge's error while one hypothesis about the cells holds:
///
///     shown = scale + bias + wander      bias    the same for all sets of the unit's channel [points]
///                                        wander  keeps its sign for days: AR(1), correlation rho from day to day
///
/// Two forms. For a percent gauge both are Gaussian and a reading is a number: the Kalman filter is exact (rounding to
/// whole points counts as white noise of 1/12; a reading at 0 or 100 is matched by its first two moments). For a gauge
/// of steps a reading is an interval: a forward filter over a grid of bias and wander.
namespace cellarer::bench {

/// How the wander of this world behaves.
struct Wander {
  double sd_points;
  double correlation_a_day;
};

/// First two moments of bias (index 0) and wander (1).
struct ErrorMoments {
  double bias, wander;
  double bias_variance, wander_variance, covariance;
};

class ErrorBelief {
 public:
  virtual ~ErrorBelief() = default;
  virtual void pass_days(double days) = 0;
  /// Takes in that scale + error lies in [low, high] (equal: a rounded number) where the hypothesis puts the scale at
  /// `scale`; answers how likely that was.
  virtual double observe(double scale, double low, double high) = 0;
  virtual ErrorMoments moments() const = 0;
};

std::unique_ptr<ErrorBelief> gaussian_error(const ErrorMoments& start, const Wander& wander);

/// Daily steps of the wander's grid, made once for all hypotheses.
class WanderGrid {
 public:
  explicit WanderGrid(const Wander& wander);
  static constexpr int nodes = 25, bias_nodes = 11;
  /// Probabilities of the wander's nodes, a column for each bias.
  using Table = Eigen::Matrix<double, nodes, bias_nodes>;
  double at(int node) const { return width_ * (node - nodes / 2); }
  double width() const { return width_; }
  /// One day, of each column: p'[j] = sum over i of step[j][i] p[i].
  void pass_day(Table& probability) const { probability = (step_ * probability).eval(); }

 private:
  double width_;
  Eigen::Matrix<double, nodes, nodes> step_;
};

/// `grid` must outlive the belief.
std::unique_ptr<ErrorBelief> gridded_error(const ErrorMoments& start, const WanderGrid& grid);

}  // namespace cellarer::bench
