// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <numbers>

#include "tests/bench/peers/error_belief.hpp"

namespace cellarer::bench {

namespace {

constexpr double rounding_variance = 1.0 / 12;

double density(double z) { return std::exp(-0.5 * z * z) / std::sqrt(2 * std::numbers::pi); }
double tail_below(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }

class GaussianError final : public ErrorBelief {
 public:
  GaussianError(const ErrorMoments& start, const Wander& wander) : is_(start), wander_(wander) {}

  void pass_days(double days) override {
    const double keep = std::pow(wander_.correlation_a_day, days);
    is_.wander *= keep;
    is_.covariance *= keep;
    is_.wander_variance = keep * keep * is_.wander_variance + (1 - keep * keep) * wander_.sd_points * wander_.sd_points;
  }

  double observe(double scale, double low, double high) override {
    const double mean = scale + is_.bias + is_.wander;
    const double error_variance = is_.bias_variance + is_.wander_variance + 2 * is_.covariance;
    if (low == high) {
      const double variance = error_variance + rounding_variance;
      learn(low - mean, variance, variance);
      return density((low - mean) / std::sqrt(variance)) / std::sqrt(variance);
    }
    const double sd = std::sqrt(error_variance);
    const double a = (low - mean) / sd, b = (high - mean) / sd;
    const double mass = std::max(a > 0 ? tail_below(-a) - tail_below(-b) : tail_below(b) - tail_below(a), 1e-200);
    const double at_a = std::isinf(a) ? 0 : density(a), at_b = std::isinf(b) ? 0 : density(b);
    const double shift = (at_a - at_b) / mass;
    const double spread = ((std::isinf(a) ? 0 : a * at_a) - (std::isinf(b) ? 0 : b * at_b)) / mass;
    learn(sd * shift, error_variance, error_variance * std::clamp(shift * shift - spread, 0.0, 1.0));
    return mass;
  }

  ErrorMoments moments() const override { return is_; }

 private:
  ErrorMoments is_;
  Wander wander_;

  /// The sum of bias and wander (with the white noise, `variance`) turned out to differ by `shift`; its variance fell
  /// by `fell`.
  void learn(double shift, double variance, double fell) {
    const double bias_gain = (is_.bias_variance + is_.covariance) / variance;
    const double wander_gain = (is_.wander_variance + is_.covariance) / variance;
    is_.bias += bias_gain * shift;
    is_.wander += wander_gain * shift;
    is_.bias_variance -= bias_gain * bias_gain * fell;
    is_.wander_variance -= wander_gain * wander_gain * fell;
    is_.covariance -= bias_gain * wander_gain * fell;
  }
};

}  // namespace

std::unique_ptr<ErrorBelief> gaussian_error(const ErrorMoments& start, const Wander& wander) {
  return std::make_unique<GaussianError>(start, wander);
}

}  // namespace cellarer::bench
