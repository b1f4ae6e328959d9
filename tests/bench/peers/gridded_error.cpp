// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <numeric>

#include "tests/bench/peers/error_belief.hpp"

namespace cellarer::bench {

namespace {

/// Half width of both axes in standard deviations, and nodes of the bias.
constexpr double grid_reach = 4.2;
constexpr int bias_nodes = 11;

void scale_to_one(std::vector<double>& probability) {
  const double total = std::accumulate(probability.begin(), probability.end(), 0.0);
  for (auto& one : probability) one /= total;
}

class GriddedError final : public ErrorBelief {
 public:
  GriddedError(const ErrorMoments& start, const WanderGrid& grid) : grid_(&grid) {
    const double bias_sd = std::sqrt(start.bias_variance);
    const double slope = start.covariance / start.bias_variance;
    const double left_sd = std::sqrt(std::max(start.wander_variance - slope * start.covariance, 0.04));
    for (int b = 0; b < bias_nodes; ++b) {
      const double z = grid_reach * (2.0 * b / (bias_nodes - 1) - 1);
      bias_.push_back(start.bias + bias_sd * z);
      weight_.push_back(std::exp(-0.5 * z * z));
      auto& wander = wander_.emplace_back();
      for (int w = 0; w < WanderGrid::nodes; ++w) {
        const double off = (grid.at(w) - start.wander - slope * bias_sd * z) / left_sd;
        wander.push_back(std::exp(-0.5 * std::min(off * off, 1000.0)) + 1e-30);
      }
      scale_to_one(wander);
    }
    scale_to_one(weight_);
  }

  void pass_days(double days) override {
    // The wander of this gauge is drawn anew once a day; what lies between counts with the nearest.
    for (auto& wander : wander_) {
      for (long day = 0; day < std::lround(days); ++day) grid_->pass_day(wander);
    }
  }

  double observe(double scale, double low, double high) override {
    double total = 0;
    for (int b = 0; b < bias_nodes; ++b) {
      double mass = 0;
      for (int w = 0; w < WanderGrid::nodes; ++w) {
        const double middle = scale + bias_[b] + grid_->at(w), half = grid_->width() / 2;
        const double inside = std::min(high, middle + half) - std::max(low, middle - half);
        // A share of each cell, and never quite nothing: a hypothesis may be all but ruled out, not struck out.
        wander_[b][w] *= std::max(inside / grid_->width(), 1e-12);
        mass += wander_[b][w];
      }
      for (auto& one : wander_[b]) one /= mass;
      weight_[b] *= mass;
      total += weight_[b];
    }
    for (auto& one : weight_) one /= total;
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
  const WanderGrid* grid_;
  std::vector<double> bias_, weight_;        ///< nodes of the bias and their probabilities
  std::vector<std::vector<double>> wander_;  ///< given the bias, probabilities of the wander's nodes

  template <class Take>
  void each(const Take& take) const {
    for (int b = 0; b < bias_nodes; ++b) {
      for (int w = 0; w < WanderGrid::nodes; ++w) take(weight_[b] * wander_[b][w], bias_[b], grid_->at(w));
    }
  }
};

}  // namespace

WanderGrid::WanderGrid(const Wander& wander) : width_(2 * grid_reach * wander.sd_points / (nodes - 1)) {
  const double rho = wander.correlation_a_day;
  const double fresh_sd = wander.sd_points * std::sqrt(1 - rho * rho);
  step_.resize(nodes * nodes);
  for (int i = 0; i < nodes; ++i) {
    double total = 0;
    for (int j = 0; j < nodes; ++j) {
      const double z = (at(j) - rho * at(i)) / fresh_sd;
      total += step_[i * nodes + j] = std::exp(-0.5 * z * z);
    }
    for (int j = 0; j < nodes; ++j) step_[i * nodes + j] /= total;
  }
}

void WanderGrid::pass_day(std::vector<double>& probability) const {
  std::vector<double> after(nodes, 0.0);
  for (int i = 0; i < nodes; ++i) {
    for (int j = 0; j < nodes; ++j) after[j] += step_[i * nodes + j] * probability[i];
  }
  probability = std::move(after);
}

std::unique_ptr<ErrorBelief> gridded_error(const ErrorMoments& start, const WanderGrid& grid) {
  return std::make_unique<GriddedError>(start, grid);
}

}  // namespace cellarer::bench
