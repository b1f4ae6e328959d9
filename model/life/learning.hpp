// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <optional>
#include <string>

#include "model/life/course.hpp"
#include "model/life/pooling.hpp"
#include "model/life/set_prior.hpp"

namespace cellarer::life {

/// What a household's ended sets teach about its next ones.
///
///     log use of a set   = household + side + unit's channel + cell type + h * exponent of the unit's model + set
///     gauge of a set     = bias of the unit's channel, the same for all its sets
///     voltage of a set   = offset and tilt of the cell type's curve + the set's own
///     capacity of a set  = what the cell type's curve is off at its end + the set's own
///
///   h   d ln(mean current) / d(exponent): what an error of the amplitude's exponent does at these settings
///
/// A set that ran through several settings shows the mean over its phases, weighted by what was drawn in each:
///
///     log use of a set   = sum over its phases p of w(p) * (log use in phase p)
///     w(p)                 share of the set's reference charge, from its change to its end, that was drawn in p
///
/// (to first order in how the phases differ: the whole charge is the sum of w(p) e^(log use in p)). So a set that was
/// half at one amplitude and half at another teaches the exponent by the mean of the two h. It was followed by its
/// first phase's use, with what is known of how later ones differ taken as given; its lesson is turned into one of the
/// mean by what the two priors differ in (learning.cpp).
///
/// One joint Gaussian over all of these (each about its agency's mean, nought at first). A set is seen through five
/// numbers (set_prior.hpp), of which its posterior gives mean and covariance; the joint Gaussian is moved so that its
/// marginal over the five agrees with that (exact where the set's posterior is Gaussian). What nothing has told
/// apart stays correlated: sets that all come out early cannot tell use from bias, a warning, a run-out or a voltmeter
/// can. Units, cell types and settings that come later start from what is common and from their own spread.
///
/// The noise of a channel's gauge is scaled by how well its readings fitted, steps for what they tell (gauge_fit.hpp; a
/// slowly moving average over its sets that starts with the weight of 40 readings at the agency's figure); held within
/// 1 to 2 times the profile's. A set is never followed with less than that: where readings scatter less than expected,
/// it may as well be that a reader's own noise, or the width of curve and capacity, is more than these readings and
/// cells have, and a gauge that is trusted too much costs run-outs. A quieter gauge is for its profile to say, which is
/// measured.
class Learning {
 public:
  /// Units, cell types and the agency's knowledge are taken from the household.
  explicit Learning(const Household& household);

  /// For a set of this type in this side whose course is given; its first phase's unit counts. `stored_log_sd`: how
  /// uncertain its storage loss is. `days_since`: how much longer it has all drifted than `pass_time` says, as of a set
  /// that goes in long after the last lesson.
  SetPrior prior(const Course& course, const cell::Profile& cell, double stored_log_sd = 0,
                 double days_since = 0) const;
  /// By how much more this side draws than the profile says with one unit and load than it does with another: log use
  /// with the later one less that with the earlier, as it has been learned. What a forecast takes for a set's later
  /// phases (PhaseShift::log_use).
  struct Drawn {
    std::size_t unit;  ///< index into the household's
    duty::BreathLoad load;
  };
  double log_use_apart(Side side, const Drawn& earlier, const Drawn& later) const;
  /// A set has ended: `prior` is what it started from. `ended`: none, at the end of its course.
  void learn(const Course& course, const cell::Profile& cell, const SetPrior& prior, const SetLesson& lesson,
             std::optional<Instant> ended = {});
  /// Sides drift, as a random walk; so does what a type's cells hold, from lot to lot. Neither ever becomes less sure
  /// than it was before anything was known.
  void pass_time(double days);

  /// What sets and time have made of it, as numbers that another one of the same household takes up: then both are the
  /// same to the last bit.
  std::vector<double> state() const;
  /// Whether those numbers can be one's state; if not, nothing is taken up.
  bool take_up(const std::vector<double>& state);

  /// What the sets alone have said of what the agency's households have in common; cell types are averaged out.
  Evidence evidence() const;

  int sets_seen(Side side) const { return sets_seen_[side == Side::left ? 0 : 1]; }

 private:
  struct Channel {
    double noise_variance = 1;      ///< over the profile's, at least 1: what sets are followed with
    double weight = 40;             ///< readings it stands for
    double seen = 0, readings = 0;  ///< sum of variances seen over the profile's, however small, and of readings
  };
  std::vector<std::size_t>
      channels_of_unit_;  ///< the first entry with the same serial: a unit that comes back is the same
  std::vector<std::size_t> model_of_unit_;
  std::vector<duty::Stimulator> stimulators_;
  std::map<std::string, Eigen::Index> type_places_;
  Eigen::Index first_model_place_ = 0;
  double set_log_sd_;
  Eigen::VectorXd mean_, first_mean_, first_variance_, drift_variance_a_day_;
  Eigen::MatrixXd cov_;
  std::vector<Channel> channels_;  ///< two a unit
  std::array<int, 2> sets_seen_{};

  Eigen::VectorXd load_loading(Side side, const Drawn& drawn) const;  ///< of log use, but for the cell type
  Eigen::VectorXd use_loading(Side side, const Drawn& drawn, const cell::Profile& cell) const;
  Eigen::VectorXd mean_use_loading(const Course& course, const cell::Profile& cell, Instant ended) const;
  Eigen::MatrixXd loadings(const Course& course, const cell::Profile& cell) const;
  std::size_t channel_index(Side side, std::size_t unit) const;
  Eigen::Index channel_place(Side side, std::size_t unit) const;
  Eigen::Index bias_place(Side side, std::size_t unit) const;
  Eigen::Index exponent_place(std::size_t unit) const;
  struct Known {
    double mean, sd;
  };
  Eigen::MatrixXd covariance_after(double days) const;
  Known seen_along(const Eigen::VectorXd& loading) const;
  Known gauge_bias(Side side, std::size_t unit) const;
  std::vector<std::pair<Eigen::Index, PooledPlace>> pooled_places() const;
};

}  // namespace cellarer::life
