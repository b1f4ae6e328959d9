// SPDX-License-Identifier: MIT
#pragma once
#include <Eigen/Core>
#include <memory>
#include <optional>
#include <vector>

#include "model/life/records.hpp"
#include "tests/bench/peers/error_belief.hpp"
#include "tests/bench/peers/given_truth.hpp"
#include "tests/bench/peers/true_discharge.hpp"
#include "tests/bench/world/household_truth.hpp"

namespace cellarer::bench {

/// One side as the best possible forecaster follows it (best_possible.hpp).
class BestSide {
 public:
  BestSide(const World& world, TrueDischarge discharge, const WanderGrid& grid, GivenTruth given);

  /// `truth` of the cells that go in: read only for what is given of it.
  void cells_in(Instant at, bool ran_out, const SetCourse& truth);
  void reading(const life::Reading& reading);
  /// That cut-off comes by `when`, the side being seen to run at `at`.
  double probability_by(Instant at, Instant when) const;

 private:
  struct Node {
    double theta, weight;
    double cutoff_h, cutoff_sd_h;  ///< in progress at theta 0
    std::unique_ptr<ErrorBelief> error;
  };
  /// Of the side's own k log use, the channel's bias and the wander, in this order.
  struct Carried {
    Eigen::Vector3d mean;
    Eigen::Matrix3d cov;
  };
  /// Of a set before its first reading: the side's own k log use, the set's theta, bias and wander, in this order.
  struct Before {
    Eigen::Vector4d mean;
    Eigen::Matrix4d cov;
  };

  const World* world_;
  TrueDischarge discharge_;
  const WanderGrid* grid_;
  GivenTruth given_;
  Carried carried_;
  Before before_;
  std::optional<duty::ChargeClock> clock_;
  std::vector<Node> nodes_;
  Instant last_, cells_since_;

  Before of_next_set(const SetCourse& truth) const;
  void lay_out(Instant at);
  void learn();
  void stopped_between(Instant seen, Instant stopped);
  void pass_to(Instant at);
  void normalise();
};

}  // namespace cellarer::bench
