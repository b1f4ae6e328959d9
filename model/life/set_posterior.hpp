// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "model/life/course.hpp"
#include "model/life/crossing.hpp"
#include "model/life/noise_filter.hpp"
#include "model/life/observation.hpp"
#include "model/life/stretched_depth.hpp"

namespace cellarer::life {

/// What is believed of a set's use and of its gauge before its first reading.
///   log use ~ N(mean, sd^2);  gauge bias ~ N(bias_mean, bias_sd^2) [points]; their covariance
struct UsePrior {
  double mean = 0, sd = 0.1;
  double bias_mean = 0, bias_sd = 3;
  double use_bias_cov = 0;
};

/// The same afterwards: what the set taught.
struct UseMoments {
  double mean, variance;
  double bias_mean, bias_variance;
  double use_bias_cov;
};

enum class StartDepth { fresh, anything };

/// How finely the hypotheses are laid out. The nodes span five standard deviations of use and 4.5 of capacity
/// to both sides, because the policy's limit lies that far out.
struct GridSize {
  int use = 61;
  int capacity = 13;
  int start = 25;  ///< of the start depth, where it is unknown
};
inline constexpr GridSize coarse_grid{31, 5, 13};  ///< for sets that have ended and only teach

/// The posterior of one set in one side, on a grid of hypotheses: relative use x capacity (x start depth).
/// Beside each node the gauge's error is tracked in closed form (noise_filter.hpp). No random numbers: the same
/// records give the same bits. Readings are taken in by order of time; those of one moment may come in any order
/// (to the accuracy of moment matching; exactly where they are points).
///
///   charge spent  q(t) * use / Q,  Q = the type's capacity, less storage loss, less a dud's shortfall
///   place y(t)    from the charge, through the converter (DepthScale) and this set's capacity (stretched_depth)
///   reading       gauge(V(y, condition)) + bias + wander, or volts; V moved by the set's own offset
///   cut-off       the charge at which y reaches the unit's cut-off depth, blurred by day-to-day use
class SetPosterior {
 public:
  struct Setup {
    const Course* course = nullptr;       ///< must outlive the posterior
    const cell::Profile* cell = nullptr;  ///< the same
    double stored_share = 1;              ///< of the capacity left after storage, (0.7, 1]
    double stored_log_sd = 0;             ///< how uncertain that is
    StartDepth start = StartDepth::fresh;
    double carried_mAh = 0;  ///< reference charge that a set put back had given before
    UsePrior prior;
    GridSize grid;
  };
  explicit SetPosterior(const Setup& setup);

  /// Where a reading falls in its predictive distribution, without taking it in and with no mistake allowed for.
  struct Place {
    double below;  ///< probability of a value at most the reading's upper end: small means the reading is low
    double above;  ///< probability of a value at least its lower end: small means the reading is high
  };
  Place place(const Observation& observation) const;

  /// `trusted`: taken as no mistake, for a branch that exists because of this reading.
  void observe(const Observation& observation, bool trusted = false);
  void alive_at(Instant at);  ///< the side was last seen to run: once, after all readings
  void stopped_between(Instant last_seen, Instant stopped);  ///< the cells ran out

  UseMoments moments() const;
  double log_evidence() const { return log_evidence_; }  ///< of all that was taken in

  /// When this set reaches cut-off, and when its unit's own warning sounds, in reference charge since it went in.
  CrossingDistribution cutoff() const;
  CrossingDistribution warning() const;
  /// Mean and standard deviation of what the gauge shows while pacing, in percent, before clipping.
  struct Gauge {
    double mean, sd;
  };
  Gauge gauge_at(double charge_mAh) const;
  const Course& course() const { return *setup_.course; }

 private:
  struct Node {
    std::size_t use, scale;  ///< indices into uses_ and scales_
    double capacity_mAh;
    double start_depth;
    double log_weight;
    NoiseState noise;
    std::vector<double> phase_start;  ///< place on the curve at the start of each phase
    double cutoff_mAh;                ///< reference charge at cut-off
    double cutoff_sd_mAh;             ///< blur by day-to-day use
  };

  Setup setup_;
  NoiseModel noise_model_;
  std::vector<double> uses_;                       ///< relative use of each node of that axis
  std::vector<std::vector<double>> cutoff_depth_;  ///< by phase and use
  std::vector<std::vector<DepthScale>> scales_;    ///< by capacity and phase
  std::vector<Node> nodes_;
  Instant last_observed_;
  double log_evidence_ = 0;
  double survived_mAh_ = 0;

  void lay_out_axes();
  void add_nodes(std::size_t scale, double capacity_mAh, double log_prior);
  void follow_phases(Node& node) const;
  double depth_at(const Node& node, double charge_mAh) const;
  double set_V(const Node& node, double charge_mAh, Condition condition) const;
  struct Expected {
    Observed observed;
    double predicted;
  };
  Expected expect(const Node& node, const Observation& observation) const;
  void normalise();
  double blur_mAh(double charge_mAh) const;
};

}  // namespace cellarer::life
