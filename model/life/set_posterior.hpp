// SPDX-License-Identifier: MIT
#pragma once
#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>
#include <vector>

#include "model/life/course.hpp"
#include "model/life/crossing.hpp"
#include "model/life/gauge.hpp"
#include "model/life/noise_bank.hpp"
#include "model/life/observation.hpp"
#include "model/life/set_prior.hpp"
#include "model/life/stretched_depth.hpp"

namespace cellarer::life {

enum class StartDepth { fresh, anything };

/// How finely the hypotheses are laid out. The nodes span five standard deviations of use and 4.5 of capacity
/// to both sides, because the policy's limit lies that far out. A grid three times as fine tells the quantiles of the
/// end within a twentieth of the width between 5 and 95 %, and risks from 1 in 100 000 within a factor of one and a
/// half (tests/model/life/grid_test.cpp).
struct GridSize {
  int use = 25;
  int capacity = 13;
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
    StartDepth start = StartDepth::fresh;
    double carried_mAh = 0;    ///< reference charge that a set put back had given before
    double day_log_sd = 0.03;  ///< of one day's use about the set's mean (movement, temperature, a restless night); an
                               ///< assumption: no source
    SetPrior prior;
    GridSize grid;
  };
  explicit SetPosterior(const Setup& setup);

  /// From now on with a course and cells that say the same of all that was taken in as those before, which may be gone.
  void go_on_with(const Course& course, const cell::Profile& cell) {
    setup_.course = &course;
    setup_.cell = &cell;
    setup_.tables = nullptr;
  }

  /// Where a reading falls in its predictive distribution, without taking it in and with no mistake allowed for.
  struct Place {
    double below;  ///< probability of a value at most the reading's upper end: small means the reading is low
    double above;  ///< probability of a value at least its lower end: small means the reading is high
  };
  Place place(const Observation& observation);

  /// A reading that is not taken in, or not yet, says how noisy the gauge is all the same.
  void set_aside(const Observation& observation);
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
  std::vector<Gauge> gauge_at(const std::vector<double>& charges_mAh) const;
  /// What a reading of the gauge at that charge would tell of the end: standard deviation of the charge at cut-off as
  /// it stands, and on average after such a reading (regression of the one on the other over the hypotheses) [mAh].
  struct WorthOfReading {
    double sd_before_mAh, sd_after_mAh;
  };
  WorthOfReading worth_of_reading(double charge_mAh) const;
  const Course& course() const { return *setup_.course; }

 private:
  struct Node {
    std::size_t use;    ///< index into uses_
    std::size_t scale;  ///< where its phases begin in scales_
    std::size_t way;    ///< the same in way_at_phase_
    double capacity_mAh;
    double weight;         ///< of all nodes together 1
    double cutoff_mAh;     ///< reference charge at cut-off
    double cutoff_sd_mAh;  ///< blur by day-to-day use and by what is not known of later phases
  };

  Setup setup_;
  NoiseModel noise_model_;
  std::vector<double> uses_, log_uses_;                   ///< relative use of each node of that axis, and its logarithm
  std::vector<double> log_capacities_;                    ///< log of lambda, one for each begin in `scales_`
  std::vector<double> phase_factor_;                      ///< of use, by phase
  std::vector<std::shared_ptr<const LoadTable>> tables_;  ///< by phase
  std::vector<LoadTable::Level> levels_;                  ///< by phase and use
  std::vector<double> lives_per_depth_;                   ///< the same: one over the depth at cut-off
  std::vector<double> cutoff_way_, cutoff_stretch_;       ///< the same: of the load's table at that depth
  std::vector<DepthScale> scales_;                        ///< by capacity and phase
  std::vector<double> way_at_phase_;                      ///< by node and phase: way along the curve at its start
  std::vector<Node> nodes_;
  NoiseBank noise_;  ///< of the same nodes
  Instant last_observed_;
  double day_mAh_;                 ///< reference charge of a day in the set's first week
  std::size_t unit_observed_ = 0;  ///< index into the household's
  std::optional<Observation> prepared_;
  Observed told_{};              ///< the same as hypotheses hear it, but for their own noise and loading
  std::optional<Place> placed_;  ///< of the reading that is prepared
  double log_evidence_ = 0;
  double survived_mAh_ = 0;
  GaugeFit gauge_fit_;
  std::optional<Observation> fit_counted_;  ///< what was set aside last

  void lay_out_axes();
  struct FirstNoise {
    NoiseState state;
    /// Of bias, offset and tilt, by how far use and capacity (logarithms) are from their means.
    Eigen::Matrix<double, 3, 2> by_axes;
  };
  FirstNoise first_noise() const;
  /// A line of the grid along the uses; `apart`: of its log capacity from the mean.
  void add_nodes(const FirstNoise& noise, std::size_t scale, double capacity_mAh, double apart, double prior);
  void follow_phases(Node& node);
  std::size_t of_use(std::size_t phase, const Node& node) const { return phase * uses_.size() + node.use; }
  double use_in_phase(const Node& node, std::size_t phase) const { return uses_[node.use] * phase_factor_[phase]; }
  /// A charge as all hypotheses are asked about it.
  struct Moment {
    std::size_t phase;
    double since_mAh;  ///< reference charge since the phase began
    double use_factor;
  };
  Moment moment(std::size_t phase, double charge_mAh) const {
    return {phase, charge_mAh - setup_.course->phases()[phase].charge_from_mAh, phase_factor_[phase]};
  }
  CurvePlace place_at(const Node& node, const Moment& at) const {
    const double spent = at.since_mAh * (uses_[node.use] * at.use_factor) / node.capacity_mAh;
    return scales_[node.scale + at.phase].place(way_at_phase_[node.way + at.phase] + spent);
  }
  double pacing_V(const Node& node, const Moment& at) const {
    return tables_[at.phase]->pacing_V(place_at(node, at), levels_[of_use(at.phase, node)]);
  }
  double charge_at_pacing_V(const Node& node, double volts) const;
  double form_sd_V(std::size_t phase) const {
    return setup_.cell->spread.curve_form_sd_V * setup_.course->phases()[phase].unit->cells_in_series;
  }
  /// A hypothesis' voltage, and how much of the set's tilt is in it.
  struct Voltage {
    double volts, tilt;
  };
  Voltage paced(const Node& node, const Moment& at) const {
    const auto place = place_at(node, at);
    const auto of = of_use(at.phase, node);
    return {tables_[at.phase]->pacing_V(place, levels_[of]), tilt_at(place.depth() * lives_per_depth_[of])};
  }
  Voltage set_V(const Node& node, const Moment& at, Condition condition) const {
    const auto paced_V = paced(node, at);
    return condition == Condition::pacing ? paced_V : Voltage{unpaced_V(node, at, condition), paced_V.tilt};
  }
  double log_capacity(const Node& node) const { return log_capacities_[node.scale / tables_.size()]; }
  double unpaced_V(const Node& node, const Moment& at, Condition condition) const;
  void prepare(const Observation& observation);
  void count_fit(const Observation& observation);
  void change_unit(std::size_t phase);
  void expect_on_gauge(const Observation& observation, std::size_t phase, double charge_mAh);
  void expect_volts(const Observation& observation, std::size_t phase, double charge_mAh);
  void normalise();
  void clear_away();
  double blur_mAh(double charge_mAh) const { return std::sqrt(blur_variance(charge_mAh)); }
  double blur_variance(double charge_mAh) const {
    return setup_.day_log_sd * setup_.day_log_sd * (day_mAh_ * std::max(charge_mAh, day_mAh_));
  }
  double alive(double cutoff_mAh, double sd_mAh) const;  ///< probability of having been seen to run
  int capacities_for_one() const;
  void add_between(const std::vector<const Node*>& of_use, int parts, std::vector<Crossing>& ends) const;
};

}  // namespace cellarer::life
