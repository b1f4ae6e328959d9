// SPDX-License-Identifier: MIT
#include "model/life/noise_filter.hpp"

#include <algorithm>

#include "model/life/normal.hpp"

namespace cellarer::life {

PassedTime::PassedTime(const NoiseModel& model, double hours)
    : keep(std::exp(-std::max(hours, 0.0) / model.correlation_time_h)),
      new_variance(model.wander_points * model.wander_points * (1 - keep * keep)) {}

void pass_time(NoiseState& state, const NoiseModel& model, double hours) { pass_time(state, PassedTime(model, hours)); }

Prediction predict(const NoiseState& state, const Observed& observed, double predicted) {
  const auto& [bias, wander, offset, tilt] = observed.loading;
  return predict<double>(state, bias, wander, offset, tilt, observed.white_sd * observed.white_sd, predicted);
}

LearnedOf<double> learn_from_interval(const Prediction& prior, const Observed& observed) {
  const double a = (observed.low - prior.mean) / prior.sd, b = (observed.high - prior.mean) / prior.sd;
  const double mass = normal_between(a, b);
  if (mass < least_likelihood) {
    // So far out that the truncated Gaussian is all at the nearer end.
    return {least_likelihood, std::clamp(prior.mean, observed.low, observed.high) - prior.mean, prior.variance};
  }
  const double at_a = std::isinf(a) ? 0 : normal_density(a), at_b = std::isinf(b) ? 0 : normal_density(b);
  const double shift = (at_a - at_b) / mass;
  const double spread = ((std::isinf(a) ? 0 : a * at_a) - (std::isinf(b) ? 0 : b * at_b)) / mass;
  return {mass, prior.sd * shift, prior.variance * std::clamp(shift * shift - spread, 0.0, 1.0)};
}

double likelihood_of_mistake(const Observed& observed) {
  if (observed.is_point()) return 1 / observed.scale_width;
  const double width = std::min(observed.high, observed.scale_width) - std::max(observed.low, 0.0);
  return std::clamp(width / observed.scale_width, 1e-3, 1.0);
}

double take_in(NoiseState& state, const NoiseModel& model, const Observed& observed, const Prediction& prediction) {
  auto learned =
      observed.is_point() ? learn_from_point(prediction, observed.low) : learn_from_interval(prediction, observed);
  take_in(state, model, model.mistake_probability * likelihood_of_mistake(observed), prediction, learned);
  return learned.likelihood;
}

}  // namespace cellarer::life
