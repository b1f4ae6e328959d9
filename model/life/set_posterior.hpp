// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "model/life/course.hpp"
#include "model/life/crossing.hpp"
#include "model/life/noise_filter.hpp"
#include "model/life/observation.hpp"
#include "model/life/set_prior.hpp"
#include "model/life/stretched_depth.hpp"

namespace cellarer::life {

enum class StartDepth { fresh, anything };

/// How finely the hypotheses are laid out. The nodes span five standard deviations of use and 4.5 of capacity
/// to both sides, because the policy's limit lies that far out.
struct GridSize {
  int use = 33;
  int capacity = 9;
  int start = 25;  ///< of the start depth, where it is unknown
};

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
    LoadTables* tables = nullptr;         ///< where tables made before are found; none: made anew
    double stored_share = 1;              ///< of the capacity left after storage, (0.7, 1]
    double stored_log_sd = 0;             ///< how uncertain that is
    StartDepth start = StartDepth::fresh;
    double carried_mAh = 0;    ///< reference charge that a set put back had given before
    double day_log_sd = 0.03;  ///< of one day's use about the set's mean (movement, temperature, a restless night); an
                               ///< assumption: no source
    SetPrior prior;
    GridSize grid;
  };
  explicit SetPosterior(const Setup& setup);

  /// Where a reading falls in its predictive distribution, without taking it in and with no mistake allowed for.
  struct Place {
    double below;  ///< probability of a value at most the reading's upper end: small means the reading is low
    double above;  ///< probability of a value at least its lower end: small means the reading is high
  };
  Place place(const Observation& observation);

  /// `trusted`: taken as no mistake, for a branch that exists because of this reading.
  void observe(const Observation& observation, bool trusted = false);
  /// The side was seen to run then. What is known afterwards takes the latest such moment into account.
  void alive_at(Instant at);
  void stopped_between(Instant last_seen, Instant stopped);  ///< the cells ran out

  SetLesson lesson() const;
  double log_evidence() const { return log_evidence_; }  ///< of all that was taken in, but for having been seen to run

  /// When this set reaches cut-off, and when its unit's own warning sounds, in reference charge since it went in.
  CrossingDistribution cutoff() const;
  CrossingDistribution warning() const;
  /// Mean and standard deviation of what the gauge shows while pacing, in percent, before clipping.
  struct Gauge {
    double mean, sd;
  };
  Gauge gauge_at(double charge_mAh) const;
  /// What a reading of the gauge at that charge would tell of the end: standard deviation of the charge at cut-off as
  /// it stands, and on average after such a reading (regression of the one on the other over the hypotheses) [mAh].
  struct WorthOfReading {
    double sd_before_mAh, sd_after_mAh;
  };
  WorthOfReading worth_of_reading(double charge_mAh) const;
  const Course& course() const { return *setup_.course; }

 private:
  struct Node {
    std::size_t use, scale;  ///< indices into uses_ and scales_
    std::size_t way;         ///< where its phases begin in way_at_phase_
    double capacity_mAh;
    double weight;  ///< of all nodes together 1
    NoiseState noise;
    double cutoff_mAh;      ///< reference charge at cut-off
    double cutoff_sd_mAh;   ///< blur by day-to-day use and by what is not known of later phases
    Prediction prediction;  ///< of the reading that `prepare` was last asked about
  };

  Setup setup_;
  NoiseModel noise_model_;
  std::vector<double> uses_;                              ///< relative use of each node of that axis
  std::vector<double> phase_factor_;                      ///< of use, by phase
  std::vector<std::shared_ptr<const LoadTable>> tables_;  ///< by phase
  std::vector<LoadTable::Table> pacing_V_;                ///< by phase and use
  std::vector<std::vector<DepthScale>> scales_;           ///< by capacity and phase
  std::vector<double> way_at_phase_;                      ///< by node and phase: way along the curve at its start
  std::vector<Node> nodes_;
  Instant last_observed_;
  double day_mAh_;  ///< reference charge of a day in the set's first week
  const duty::Stimulator* unit_observed_ = nullptr;
  std::optional<Observation> prepared_;
  Observed told_{};              ///< the same as hypotheses hear it, but for their own noise and loading
  std::optional<Place> placed_;  ///< of the reading that is prepared
  double log_evidence_ = 0;
  double survived_mAh_ = 0;
  GaugeFit gauge_fit_;

  void lay_out_axes();
  void add_nodes(std::size_t scale, double capacity_mAh, double capacity_z, double prior);
  void follow_phases(Node& node);
  double use_in_phase(const Node& node, std::size_t phase) const { return uses_[node.use] * phase_factor_[phase]; }
  CurvePlace place_at(const Node& node, std::size_t phase, double charge_mAh) const;
  double pacing_V(const Node& node, std::size_t phase, double charge_mAh) const {
    return place_at(node, phase, charge_mAh).in(pacing_V_[phase * uses_.size() + node.use]);
  }
  double charge_at_pacing_V(const Node& node, double volts) const;
  double set_V(const Node& node, std::size_t phase, double charge_mAh, Condition condition) const;
  void prepare(const Observation& observation);
  void change_unit(std::size_t phase);
  void normalise();
  double blur_mAh(double charge_mAh) const;
  double weight_alive(const Node& node) const;  ///< with having been seen to run
};

}  // namespace cellarer::life
