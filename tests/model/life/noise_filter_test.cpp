// SPDX-License-Identifier: MIT
#include "model/life/noise_filter.hpp"

#include <Eigen/Dense>
#include <cmath>
#include <limits>

#include "model/life/normal.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer::life;

namespace {

constexpr double bias_sd = 3, wander_sd = 4, white_sd = 1, tau_h = 107;

NoiseState fresh_state() {
  NoiseState state;
  state.cov[0][0] = bias_sd * bias_sd;
  state.cov[1][1] = wander_sd * wander_sd;
  return state;
}

Observed point(double value) { return {value, value, white_sd, {1, 1, 0, 0}, 100}; }

/// By a hypothesis that expects nought on the scale.
double took_in(NoiseState& state, const NoiseModel& model, const Observed& observed) {
  return take_in(state, model, observed, predict(state, observed, 0));
}

}  // namespace

TEST_CASE("gaussian readings give the closed form of the joint normal distribution") {
  // Identity: conditioning a multivariate normal (any textbook): mean C S^-1 y, variance v - C S^-1 C'.
  const double hours[] = {0, 24, 30, 72, 200}, values[] = {3.0, 1.5, -2.0, 4.0, 0.5};
  NoiseModel model{wander_sd, tau_h, 0.0};
  auto state = fresh_state();
  Eigen::Matrix<double, 5, 5> joint;
  Eigen::Matrix<double, 5, 1> seen;
  double log_likelihood = 0, before = 0;
  for (int i = 0; i < 5; ++i) {
    seen[i] = values[i];
    for (int j = 0; j < 5; ++j) {
      joint(i, j) = bias_sd * bias_sd + wander_sd * wander_sd * std::exp(-std::abs(hours[i] - hours[j]) / tau_h) +
                    (i == j ? white_sd * white_sd : 0);
    }
    pass_time(state, model, hours[i] - before);
    before = hours[i];
    log_likelihood += std::log(took_in(state, model, point(values[i])));
  }
  const Eigen::Matrix<double, 1, 5> with_bias = Eigen::Matrix<double, 1, 5>::Constant(bias_sd * bias_sd);
  const Eigen::Matrix<double, 5, 1> solved = joint.ldlt().solve(seen);
  REQUIRE(state.mean[0] == Approx((with_bias * solved)(0)).epsilon(1e-9));
  REQUIRE(state.cov[0][0] ==
          Approx(bias_sd * bias_sd - (with_bias * joint.ldlt().solve(with_bias.transpose()))(0)).epsilon(1e-9));
  const double expected = -0.5 * (seen.dot(solved) + std::log(joint.determinant()) + 5 * std::log(2 * std::acos(-1.0)));
  REQUIRE(log_likelihood == Approx(expected).epsilon(1e-9));
}

TEST_CASE("offset and tilt of a set are told apart as the regression line through its readings") {
  // Bayesian linear regression (any textbook): posterior precision = prior precision + X' X / s^2.
  constexpr double offset_sd = 0.004, tilt_sd = 0.018, meter_sd = 0.015;
  const double places[] = {-0.4, -0.1, 0.2, 0.33}, values[] = {2.51, 2.49, 2.52, 2.53};
  NoiseState state;
  state.cov[2][2] = offset_sd * offset_sd;
  state.cov[3][3] = tilt_sd * tilt_sd;
  Eigen::Matrix2d precision = Eigen::Vector2d(1 / state.cov[2][2], 1 / state.cov[3][3]).asDiagonal();
  Eigen::Vector2d pull = Eigen::Vector2d::Zero();
  for (int i = 0; i < 4; ++i) {
    took_in(state, {wander_sd, tau_h, 0.0}, {values[i] - 2.5, values[i] - 2.5, meter_sd, {0, 0, 1, places[i]}, 1});
    const Eigen::Vector2d row(1, places[i]);
    precision += row * row.transpose() / (meter_sd * meter_sd);
    pull += row * (values[i] - 2.5) / (meter_sd * meter_sd);
  }
  const Eigen::Matrix2d cov = precision.inverse();
  const Eigen::Vector2d mean = cov * pull;
  CHECK(state.mean[2] == Approx(mean[0]).epsilon(1e-9));
  CHECK(state.mean[3] == Approx(mean[1]).epsilon(1e-9));
  CHECK(state.cov[2][2] == Approx(cov(0, 0)).epsilon(1e-9));
  CHECK(state.cov[2][3] == Approx(cov(0, 1)).epsilon(1e-9));
  CHECK(state.cov[3][3] == Approx(cov(1, 1)).epsilon(1e-9));
}

TEST_CASE("ten readings at correlation 0.8 are worth far less than ten white ones") {
  // DEVELOPERS.md (4.3): taken as white they would be 2.3 times too sure of the mean. The exact standard error of the
  // mean of ten from a stationary AR(1) over that of ten independent ones, and the filter's with a vague bias.
  double sum = 10;
  for (int k = 1; k < 10; ++k) sum += 2 * (10 - k) * std::pow(0.8, k);
  REQUIRE(std::sqrt(sum / 10) == Approx(2.3).epsilon(0.02));
  NoiseModel model{1.0, -24 / std::log(0.8), 0.0};
  NoiseState state;
  state.cov[0][0] = 1e6;
  state.cov[1][1] = 1;
  for (int k = 0; k < 10; ++k) {
    if (k > 0) pass_time(state, model, 24);
    took_in(state, model, {0, 0, 1e-4, {1, 1, 0, 0}, 100});
  }
  // The best linear estimate of the mean of an AR(1) has variance (1 + rho) / ((1 - rho) n + 2 rho).
  REQUIRE(state.cov[0][0] == Approx(1.8 / (0.2 * 10 + 1.6)).epsilon(1e-3));
  REQUIRE(std::sqrt(state.cov[0][0] * 10) == Approx(2.24).epsilon(0.01));
}

TEST_CASE("an interval reading moves the mean as the truncated normal says") {
  // Johnson, Kotz, Balakrishnan: mean of N(0,1) above 0 is sqrt(2/pi), variance 1 - 2/pi; from memory.
  NoiseModel model{0, tau_h, 0.0};
  NoiseState state;
  state.cov[0][0] = 1;
  const double likelihood =
      took_in(state, model, {0, std::numeric_limits<double>::infinity(), 1e-9, {1, 0, 0, 0}, 100});
  REQUIRE(likelihood == Approx(0.5));
  REQUIRE(state.mean[0] == Approx(std::sqrt(2 / std::acos(-1.0))).epsilon(1e-6));
  REQUIRE(state.cov[0][0] == Approx(1 - 2 / std::acos(-1.0)).epsilon(1e-6));
}

TEST_CASE("a reading far off is taken for a mistake and teaches next to nothing") {
  NoiseModel model{wander_sd, tau_h, 0.03};
  auto state = fresh_state();
  const double density = took_in(state, model, point(60));
  REQUIRE(density == Approx(0.03 / 100).epsilon(1e-3));  // a mistake is anywhere on the scale
  REQUIRE(std::abs(state.mean[0]) < 0.01);
  REQUIRE(state.cov[0][0] == Approx(bias_sd * bias_sd).epsilon(1e-3));
}
