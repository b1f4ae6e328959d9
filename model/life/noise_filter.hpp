// SPDX-License-Identifier: MIT
#pragma once
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "model/numerics/lanes.hpp"

namespace cellarer::life {

/// The error between what a curve predicts and what a reading says, as four hidden numbers that are
/// tracked together beside each hypothesis of the grid:
///
///   bias    [points]  the gauge of this unit's channel, the same for all its sets
///   wander  [points]  the gauge's noise: it keeps its sign for days, correlation exp(-dt / tau)
///   offset  [V]       of this set's voltage from its type's curve, the same for all its readings
///   tilt    [V]       the same, growing along its life (tilt_at)
///
/// Readings of one week are therefore never taken as independent: ten readings whose noise has correlation
/// 0.8 from one to the next, taken as white, would be trusted 2.3 times too much.
///
/// A Gaussian reading is treated exactly (a Kalman step); an interval (a step gauge, a warning, a clipped
/// percentage) by matching the first two moments of the truncated Gaussian; a reading that may be a plain
/// mistake by matching those of the mixture.
///
/// `Real` is a number, or as many as the processor reckons at once (noise_bank.hpp): one formula for both. What could
/// be loops over four is written out, as compilers keep it in registers then.
template <class Real>
struct alignas(sizeof(Real)) NoiseStateOf {
  std::array<Real, 4> mean{};                ///< bias, wander, offset, tilt
  std::array<std::array<Real, 4>, 4> cov{};  ///< their covariance; kept where column >= row
};
using NoiseState = NoiseStateOf<double>;

/// How much of a set's tilt its voltage shows at a share of its life: nought in mid-life, where its offset is told of.
/// Beyond three quarters the capacity tells how it ends. Source: two specimens of 13 brands at 100 mA (data/cells): at
/// equal charge the one's voltage less the other's follows a straight line along the life to 1.6 mV, a constant to 3.1.
inline double tilt_at(double share_of_life) { return std::min(share_of_life, 0.75) - 0.42; }

struct NoiseModel {
  double wander_points = 4;           ///< stationary standard deviation
  double correlation_time_h = 107;    ///< exp(-24 / 107) = 0.80 from day to day
  double mistake_probability = 0.03;  ///< of a reading that has nothing to do with the gauge
};

/// What a reading says, in its own scale s = predicted + loading . (bias, wander, offset, tilt) + white noise.
struct Observed {
  double low, high;               ///< equal for a point, otherwise an interval; ends may be infinite
  double white_sd;                ///< of the reader's own noise, > 0 for a point
  std::array<double, 4> loading;  ///< gauge: 1, 1, slope, slope * g; voltmeter: 0, 0, 1, g with g of tilt_at
  double scale_width;             ///< over which a mistaken reading is spread: 100 points, or 1 V

  bool is_point() const { return low == high; }
};

/// What some hours do to a wander, for many states at once.
struct PassedTime {
  PassedTime(const NoiseModel& model, double hours);
  double keep, new_variance;
};

/// Lets time pass: wander forgets, bias and offset do not.
template <class Real>
CELLARER_INLINE void pass_time(NoiseStateOf<Real>& state, const PassedTime& passed) {
  state.mean[1] = state.mean[1] * passed.keep;
  auto& cov = state.cov;
  cov[0][1] = cov[0][1] * passed.keep;
  cov[1][2] = cov[1][2] * passed.keep;
  cov[1][3] = cov[1][3] * passed.keep;
  cov[1][1] = cov[1][1] * (passed.keep * passed.keep) + passed.new_variance;
}
void pass_time(NoiseState& state, const NoiseModel& model, double hours);

/// What a hypothesis expects of a reading before it is taken in, from its own prediction `predicted`.
template <class Real>
struct alignas(sizeof(Real)) PredictionOf {
  Real mean, variance, sd;    ///< of the reading's scale value
  std::array<Real, 4> along;  ///< covariance of the state with the scale value
};
using Prediction = PredictionOf<double>;

template <class Real>
CELLARER_INLINE PredictionOf<Real> predict(const NoiseStateOf<Real>& state, double load_bias, double load_wander,
                                           const Real& load_offset, const Real& load_tilt, const Real& white_variance,
                                           const Real& predicted) {
  using numerics::sqrt, std::sqrt;
  const auto& cov = state.cov;
  const auto& m = state.mean;
  PredictionOf<Real> of;
  const auto& a = load_bias;
  const auto& b = load_wander;
  const auto& c = load_offset;
  const auto& d = load_tilt;
  of.along[0] = a * cov[0][0] + b * cov[0][1] + c * cov[0][2] + d * cov[0][3];
  of.along[1] = a * cov[0][1] + b * cov[1][1] + c * cov[1][2] + d * cov[1][3];
  of.along[2] = a * cov[0][2] + b * cov[1][2] + c * cov[2][2] + d * cov[2][3];
  of.along[3] = a * cov[0][3] + b * cov[1][3] + c * cov[2][3] + d * cov[3][3];
  of.mean = predicted + a * m[0] + b * m[1] + c * m[2] + d * m[3];
  of.variance = white_variance + a * of.along[0] + b * of.along[1] + c * of.along[2] + d * of.along[3];
  of.sd = sqrt(of.variance);
  return of;
}
Prediction predict(const NoiseState& state, const Observed& observed, double predicted);

/// What is learned of the scale value: its likelihood, by how much its mean moves, and what its variance loses.
template <class Real>
struct alignas(sizeof(Real)) LearnedOf {
  Real likelihood, shift, narrowed;
};

/// A reading that nothing explains, one cell's voltage typed in for the set's, leaves numbers all the same.
constexpr double least_likelihood = 1e-250;

/// From a reading that is one value.
template <class Real>
CELLARER_INLINE LearnedOf<Real> learn_from_point(const PredictionOf<Real>& prior, double value) {
  using numerics::exp, std::exp;
  const Real shift = value - prior.mean, inverse = 1 / prior.sd, z = shift * inverse;
  const Real density = exp(-0.5 * (z * z));
  // The floor is added where a maximum would do as well: a likelihood that counts is larger by 200 orders.
  return {density * inverse * (1 / std::sqrt(2 * std::numbers::pi)) + least_likelihood, shift, prior.variance};
}
/// From one that is an interval.
LearnedOf<double> learn_from_interval(const Prediction& prior, const Observed& observed);

/// How likely a mistake would show this: spread evenly over the scale.
double likelihood_of_mistake(const Observed& observed);

/// Moves the state by what was learned. `learned.likelihood` becomes the probability (density, for a point) of the
/// reading given the hypothesis, mistakes included; always > 0. `mistake`: probability of a mistake, times how likely
/// it would show this.
template <class Real>
CELLARER_INLINE void take_in(NoiseStateOf<Real>& state, const NoiseModel& model, double mistake,
                             const PredictionOf<Real>& prior, LearnedOf<Real>& learned) {
  const Real good = (1 - model.mistake_probability) * learned.likelihood;
  learned.likelihood = good + mistake;
  const Real trust = good / learned.likelihood;
  const Real& shift = learned.shift;
  // Moments of the mixture "the reading is good" (trust) or "a mistake, nothing learned" (1 - trust).
  const Real shrink = trust * (learned.narrowed - (1 - trust) * (shift * shift));
  const Real inverse = 1 / prior.variance;
  const Real by_mean = trust * shift * inverse, by_cov = shrink * inverse * inverse;
  const auto& [bias, wander, offset, tilt] = prior.along;
  state.mean[0] = state.mean[0] + by_mean * bias;
  state.mean[1] = state.mean[1] + by_mean * wander;
  state.mean[2] = state.mean[2] + by_mean * offset;
  state.mean[3] = state.mean[3] + by_mean * tilt;
  auto& cov = state.cov;
  cov[0][0] = cov[0][0] - by_cov * bias * bias;
  cov[0][1] = cov[0][1] - by_cov * bias * wander;
  cov[0][2] = cov[0][2] - by_cov * bias * offset;
  cov[1][1] = cov[1][1] - by_cov * wander * wander;
  cov[1][2] = cov[1][2] - by_cov * wander * offset;
  cov[2][2] = cov[2][2] - by_cov * offset * offset;
  cov[0][3] = cov[0][3] - by_cov * bias * tilt;
  cov[1][3] = cov[1][3] - by_cov * wander * tilt;
  cov[2][3] = cov[2][3] - by_cov * offset * tilt;
  cov[3][3] = cov[3][3] - by_cov * tilt * tilt;
}
/// The same of a whole reading, whose likelihood it answers.
double take_in(NoiseState& state, const NoiseModel& model, const Observed& observed, const Prediction& prediction);

}  // namespace cellarer::life
