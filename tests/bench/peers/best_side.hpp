// SPDX-License-Identifier: MIT
#pragma once
#include <Eigen/Core>
#include <memory>
#include <optional>
#include <vector>

#include "model/life/records.hpp"
#include "tests/bench/peers/error_belief.hpp"
#include "tests/bench/peers/true_discharge.hpp"

namespace cellarer::bench {

/// One side as the best possible forecaster follows it (best_possible.hpp).
class BestSide {
 public:
  BestSide(const World& world, TrueDischarge discharge, const WanderGrid& grid);

  void cells_in(Instant at, bool ran_out);
  void reading(const life::Reading& reading);
  /// That cut-off comes by `when`, the side being seen to run at `at`.
  double probability_by(Instant at, Instant when) const;

 private:
  struct Node {
    double theta, weight;
    double cutoff_h, cutoff_sd_h;  ///< in progress at theta 0
    std::unique_ptr<ErrorBelief> error;
  };
  /// Of the side's own theta, the channel's bias and the wander, in this order.
  struct Carried {
    Eigen::Vector3d mean;
    Eigen::Matrix3d cov;
  };

  const World* world_;
  TrueDischarge discharge_;
  const WanderGrid* grid_;
  Carried carried_;
  double set_variance_;  ///< of theta, from set to set
  std::optional<duty::ChargeClock> clock_;
  std::vector<Node> nodes_;
  Instant last_, cells_since_;

  void lay_out(Instant at);
  void learn();
  void stopped_between(Instant seen, Instant stopped);
  void pass_to(Instant at);
  void normalise();
};

}  // namespace cellarer::bench
