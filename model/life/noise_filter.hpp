// SPDX-License-Identifier: MIT
#pragma once
#include <array>

namespace cellarer::life {

/// The error between what a curve predicts and what a reading says, as three hidden numbers that are
/// tracked together beside each hypothesis of the grid:
///
///   bias    [points]  the gauge of this unit's channel, the same for all its sets
///   wander  [points]  the gauge's noise: it keeps its sign for days, correlation exp(-dt / tau)
///   offset  [V]       of this set's voltage from its type's curve, the same for all its readings
///
/// Readings of one week are therefore never taken as independent: ten readings whose noise has correlation
/// 0.8 from one to the next, taken as white, would be trusted 2.3 times too much.
///
/// A Gaussian reading is treated exactly (a Kalman step); an interval (a step gauge, a warning, a clipped
/// percentage) by matching the first two moments of the truncated Gaussian; a reading that may be a plain
/// mistake by matching those of the mixture.
struct NoiseState {
  std::array<double, 3> mean{};                ///< bias, wander, offset
  std::array<std::array<double, 3>, 3> cov{};  ///< their covariance
};

struct NoiseModel {
  double wander_points = 4;           ///< stationary standard deviation
  double correlation_time_h = 107;    ///< exp(-24 / 107) = 0.80 from day to day
  double mistake_probability = 0.03;  ///< of a reading that has nothing to do with the gauge
};

/// What a reading says, in its own scale s = predicted + loading . (bias, wander, offset) + white noise.
struct Observed {
  double low, high;               ///< equal for a point, otherwise an interval; ends may be infinite
  double white_sd;                ///< of the reader's own noise, > 0 for a point
  std::array<double, 3> loading;  ///< gauge: 1, 1, slope; voltmeter: 0, 0, 1
  double scale_width;             ///< over which a mistaken reading is spread: 100 points, or 1 V
};

/// Lets `hours` pass: wander forgets, bias and offset do not.
void pass_time(NoiseState& state, const NoiseModel& model, double hours);

/// What some hours do to a wander, for many states at once.
struct PassedTime {
  PassedTime(const NoiseModel& model, double hours);
  double keep, new_variance;
};
void pass_time(NoiseState& state, const PassedTime& passed);

/// What a hypothesis expects of a reading before it is taken in, from its own prediction `predicted`.
struct Prediction {
  double mean, variance, sd;   ///< of the reading's scale value
  std::array<double, 3> gain;  ///< covariance of the state with the scale value, over the variance
};
Prediction predict(const NoiseState& state, const Observed& observed, double predicted);

/// Takes the reading in and answers its probability (density, for a point) given the hypothesis whose
/// prediction that is, mistakes included. Always > 0.
double take_in(NoiseState& state, const NoiseModel& model, const Observed& observed, const Prediction& prediction);

/// Probability that the reading's scale value would be at most `value`, with no mistake: for telling readings that are
/// out of range.
double probability_below(const Prediction& prediction, double value);

}  // namespace cellarer::life
