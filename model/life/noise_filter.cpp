// SPDX-License-Identifier: MIT
#include "model/life/noise_filter.hpp"

#include <algorithm>
#include <cmath>

#include "model/life/normal.hpp"

namespace cellarer::life {

namespace {

/// A reading that nothing explains, one cell's voltage typed in for the set's, leaves numbers all the same.
constexpr double least_likelihood = 1e-250;

/// What is learned of the scale value: its likelihood, and its first two moments afterwards.
struct Learned {
  double likelihood, mean, variance;
};

Learned learn(const Prediction& prior, const Observed& observed) {
  if (observed.low == observed.high) {
    return {std::max(normal_density((observed.low - prior.mean) / prior.sd) / prior.sd, least_likelihood), observed.low,
            0};
  }
  const double a = (observed.low - prior.mean) / prior.sd, b = (observed.high - prior.mean) / prior.sd;
  const double mass = normal_between(a, b);
  if (mass < least_likelihood) {
    // So far out that the truncated Gaussian is all at the nearer end.
    return {least_likelihood, std::clamp(prior.mean, observed.low, observed.high), 0};
  }
  const double at_a = std::isinf(a) ? 0 : normal_density(a), at_b = std::isinf(b) ? 0 : normal_density(b);
  const double shift = (at_a - at_b) / mass;
  const double spread = ((std::isinf(a) ? 0 : a * at_a) - (std::isinf(b) ? 0 : b * at_b)) / mass;
  return {mass, prior.mean + prior.sd * shift, prior.variance * std::clamp(1 + spread - shift * shift, 0.0, 1.0)};
}

/// How likely a mistake would show this: spread evenly over the scale.
double likelihood_of_mistake(const Observed& observed) {
  if (observed.low == observed.high) return 1 / observed.scale_width;
  const double width = std::min(observed.high, observed.scale_width) - std::max(observed.low, 0.0);
  return std::clamp(width / observed.scale_width, 1e-3, 1.0);
}

}  // namespace

PassedTime::PassedTime(const NoiseModel& model, double hours)
    : keep(std::exp(-std::max(hours, 0.0) / model.correlation_time_h)),
      new_variance(model.wander_points * model.wander_points * (1 - keep * keep)) {}

void pass_time(NoiseState& state, const PassedTime& passed) {
  constexpr std::size_t wander = 1;
  state.mean[wander] *= passed.keep;
  for (std::size_t i = 0; i < 3; ++i) {
    state.cov[wander][i] *= passed.keep;
    state.cov[i][wander] *= passed.keep;
  }
  state.cov[wander][wander] += passed.new_variance;
}

void pass_time(NoiseState& state, const NoiseModel& model, double hours) { pass_time(state, PassedTime(model, hours)); }

Prediction predict(const NoiseState& state, const Observed& observed, double predicted) {
  Prediction result{predicted, observed.white_sd * observed.white_sd, 0, {}};
  std::array<double, 3> covariance{};
  for (std::size_t i = 0; i < 3; ++i) {
    result.mean += observed.loading[i] * state.mean[i];
    for (std::size_t j = 0; j < 3; ++j) covariance[i] += state.cov[i][j] * observed.loading[j];
  }
  for (std::size_t i = 0; i < 3; ++i) result.variance += observed.loading[i] * covariance[i];
  result.sd = std::sqrt(result.variance);
  for (std::size_t i = 0; i < 3; ++i) result.gain[i] = covariance[i] / result.variance;
  return result;
}

double take_in(NoiseState& state, const NoiseModel& model, const Observed& observed, const Prediction& prior) {
  const auto learned = learn(prior, observed);
  const double good = (1 - model.mistake_probability) * learned.likelihood;
  const double total = good + model.mistake_probability * likelihood_of_mistake(observed);
  const double trust = good / total;
  const double shift = learned.mean - prior.mean;
  // Moments of the mixture "the reading is good" (trust) or "a mistake, nothing learned" (1 - trust).
  const double shrink = trust * (prior.variance - learned.variance) - trust * (1 - trust) * shift * shift;
  for (std::size_t i = 0; i < 3; ++i) {
    state.mean[i] += trust * shift * prior.gain[i];
    for (std::size_t j = 0; j < 3; ++j) state.cov[i][j] -= shrink * prior.gain[i] * prior.gain[j];
  }
  return total;
}

double probability_below(const Prediction& prediction, double value) {
  return normal_below((value - prediction.mean) / prediction.sd);
}

}  // namespace cellarer::life
