// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>

#include "tests/bench/peers/error_belief.hpp"

namespace cellarer::bench {

namespace {

/// Half width of both axes in standard deviations.
constexpr double grid_reach = 4.2;
constexpr int bias_nodes = WanderGrid::bias_nodes;

class GriddedError final : public ErrorBelief {
 public:
  GriddedError(const ErrorMoments& start, const WanderGrid& grid) : grid_(&grid) {
    const double bias_sd = std::sqrt(start.bias_variance);
    const double slope = start.covariance / start.bias_variance;
    const double left_sd = std::sqrt(std::max(start.wander_variance - slope * start.covariance, 0.04));
    for (int w = 0; w < WanderGrid::nodes; ++w) place_[w] = grid.at(w);
    for (int b = 0; b < bias_nodes; ++b) {
      const double z = grid_reach * (2.0 * b / (bias_nodes - 1) - 1);
      bias_[b] = start.bias + bias_sd * z;
      weight_[b] = std::exp(-0.5 * z * z);
      for (int w = 0; w < WanderGrid::nodes; ++w) {
        const double off = (grid.at(w) - start.wander - slope * bias_sd * z) / left_sd;
        wander_(w, b) = std::exp(-0.5 * std::min(off * off, 1000.0)) + 1e-30;
      }
      wander_.col(b) /= wander_.col(b).sum();
    }
    weight_ /= weight_.sum();
  }

  void pass_days(double days) override {
    // The wander of this gauge is drawn anew once a day; what lies between counts with the nearest.
    for (long day = 0; day < std::lround(days); ++day) grid_->pass_day(wander_);
  }

  double observe(double scale, double low, double high) override {
    const double half = grid_->width() / 2;
    for (int b = 0; b < bias_nodes; ++b) {
      const Places middle = place_ + (scale + bias_[b]);
      const Places inside = (middle + half).min(high) - (middle - half).max(low);
      // A share of each cell, and never quite nothing: a hypothesis may be all but ruled out, not struck out.
      wander_.col(b).array() *= (inside / grid_->width()).max(1e-12);
      const double mass = wander_.col(b).sum();
      wander_.col(b) /= mass;
      weight_[b] *= mass;
    }
    const double total = weight_.sum();
    weight_ /= total;
    return total;
  }

  ErrorMoments moments() const override {
    ErrorMoments moments{};
    double both = 0;
    each([&](double p, double bias, double wander) {
      moments.bias += p * bias;
      moments.wander += p * wander;
      moments.bias_variance += p * bias * bias;
      moments.wander_variance += p * wander * wander;
      both += p * bias * wander;
    });
    moments.bias_variance = std::max(moments.bias_variance - moments.bias * moments.bias, 0.01);
    moments.wander_variance = std::max(moments.wander_variance - moments.wander * moments.wander, 0.01);
    moments.covariance = both - moments.bias * moments.wander;
    return moments;
  }

 private:
  using Places = Eigen::Array<double, WanderGrid::nodes, 1>;
  const WanderGrid* grid_;
  Places place_;                                        ///< of the wander's nodes [points]
  Eigen::Matrix<double, bias_nodes, 1> bias_, weight_;  ///< nodes of the bias and their probabilities
  WanderGrid::Table wander_;                            ///< given the bias

  template <class Take>
  void each(const Take& take) const {
    for (int b = 0; b < bias_nodes; ++b) {
      for (int w = 0; w < WanderGrid::nodes; ++w) take(weight_[b] * wander_(w, b), bias_[b], place_[w]);
    }
  }
};

}  // namespace

WanderGrid::WanderGrid(const Wander& wander) : width_(2 * grid_reach * wander.sd_points / (nodes - 1)) {
  const double rho = wander.correlation_a_day;
  const double fresh_sd = wander.sd_points * std::sqrt(1 - rho * rho);
  for (int from = 0; from < nodes; ++from) {
    for (int to = 0; to < nodes; ++to) {
      const double z = (at(to) - rho * at(from)) / fresh_sd;
      step_(to, from) = std::exp(-0.5 * z * z);
    }
    step_.col(from) /= step_.col(from).sum();
  }
}

std::unique_ptr<ErrorBelief> gridded_error(const ErrorMoments& start, const WanderGrid& grid) {
  return std::make_unique<GriddedError>(start, grid);
}

}  // namespace cellarer::bench
