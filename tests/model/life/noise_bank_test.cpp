// SPDX-License-Identifier: MIT
#include "model/life/noise_bank.hpp"

#include <limits>
#include <vector>

#include "model/life/normal.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer::life;

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

NoiseState first_of_all() {
  NoiseState state;
  state.mean = {0.5, 0, -0.01, 0.004};
  state.cov = {{{9, 0.1, 0.02, 0.01}, {0, 16, 0.03, -0.02}, {0, 0, 4e-4, 1e-5}, {0, 0, 0, 3e-4}}};
  return state;
}

/// The same hypothesis by itself: the filter's own formulae, which noise_filter_test.cpp holds to the textbooks.
struct Alone {
  NoiseState state;
  double likelihood = 0;
};

void agree(const NoiseBank& bank, std::size_t k, const Alone& alone) {
  CAPTURE(k);
  CHECK(bank.likelihood(k) == Approx(alone.likelihood).epsilon(1e-12));
  for (std::size_t i = 0; i < 4; ++i) {
    CHECK(bank.mean(k, i) == Approx(alone.state.mean[i]).epsilon(1e-12));
    for (std::size_t j = i; j < 4; ++j) CHECK(bank.cov(k, i, j) == Approx(alone.state.cov[i][j]).epsilon(1e-10));
  }
}

}  // namespace

TEST_CASE("hypotheses by fours learn what each learns by itself") {
  constexpr std::size_t count = 7;  // the last group is not full
  const NoiseModel model;
  NoiseBank bank(count, first_of_all());
  std::vector<Alone> alone(count, {first_of_all()});
  for (std::size_t k = 0; k < count; ++k) {
    const double more = 0.3 * static_cast<double>(k);
    bank.add(more, -0.002 * more, 0.001 * more);
    alone[k].state.mean[0] += more;
    alone[k].state.mean[2] += -0.002 * more;
    alone[k].state.mean[3] += 0.001 * more;
  }
  const std::vector<Observed> readings{{55, 55, 1, {1, 1, 0, 0}, 100},        {40, 60, 1, {1, 1, 0, 0}, 100},
                                       {-infinity, 12, 1, {1, 1, 0, 0}, 100}, {2.4, 2.4, 0.015, {0, 0, 1, 0}, 1},
                                       {90, 90, 1, {1, 1, 0, 0}, 100},        {88, infinity, 1, {1, 1, 0, 0}, 100},
                                       {5000, 5100, 1, {1, 1, 0, 0}, 100},    {-infinity, -5000, 1, {1, 1, 0, 0}, 100}};
  const auto take = [&](Observed reading, double hours) {
    const bool gauge = reading.scale_width > 1;
    for (std::size_t k = 0; k < alone.size(); ++k) {
      const auto place = static_cast<double>(k);
      const double predicted = gauge ? 50 + place : 2.41 + 0.01 * place, slope = gauge ? 150 + 20 * place : 1;
      const double tilt = slope * (0.05 * place - 0.2);
      bank.expect(k, predicted, slope, tilt, reading.white_sd * reading.white_sd);
      reading.loading[2] = slope;
      reading.loading[3] = tilt;
      pass_time(alone[k].state, model, hours);
      const auto prior = predict(alone[k].state, reading, predicted);
      alone[k].likelihood = take_in(alone[k].state, model, reading, prior);
    }
    bank.predict(PassedTime(model, hours), reading.loading[0], reading.loading[1]);
    bank.look(reading);
    for (std::size_t k = 0; k < alone.size(); ++k) {
      const double mean = bank.predicted_mean(k), sd = bank.predicted_sd(k);
      CHECK(bank.below_low(k) == Approx(normal_below((reading.low - mean) / sd)).epsilon(1e-12).margin(1e-290));
      CHECK(bank.below_high(k) == Approx(normal_below((reading.high - mean) / sd)).epsilon(1e-12).margin(1e-290));
    }
    bank.take_in(model, reading);
    for (std::size_t k = 0; k < alone.size(); ++k) agree(bank, k, alone[k]);
  };
  for (const auto& reading : readings) take(reading, 20);

  // Some are dropped: the others stay as they were, in their order.
  bank.keep({0, 3, 5, 6});
  alone = {alone[0], alone[3], alone[5], alone[6]};
  for (const auto& reading : readings) take(reading, 30);
  bank.keep({1, 2, 3});
  alone.erase(alone.begin());
  take(readings.front(), 5);
}

TEST_CASE("mean and covariance over all hypotheses are those of the mixture, summed one by one") {
  constexpr std::size_t count = 6;  // the last group is not full
  NoiseBank bank(count, first_of_all());
  for (std::size_t k = 0; k < count; ++k) bank.add(0.4 * static_cast<double>(k), 0.001 * static_cast<double>(k), 0);
  const std::vector<double> weights{0.1, 0.3, 0.2, 0.05, 0.25, 0.1}, first{0.3, -0.1, 0.2, 0, 0.5, -0.4},
      last{1, 2, 3, 1, 2, 3};
  const auto moments = bank.moments(weights, first, last);
  constexpr std::array<std::size_t, 3> errors{0, 2, 3};
  const auto number = [&](std::size_t k, std::size_t i) {
    return i == 0 ? first[k] : i == 4 ? last[k] : bank.mean(k, errors[i - 1]);
  };
  for (std::size_t i = 0; i < 5; ++i) {
    double mean = 0;
    for (std::size_t k = 0; k < count; ++k) mean += weights[k] * number(k, i);
    CHECK(moments.mean[i] == Approx(mean).epsilon(1e-12));
    for (std::size_t j = i; j < 5; ++j) {
      // The law of total covariance: of the means, and the mean of what each leaves open.
      double covariance = 0;
      for (std::size_t k = 0; k < count; ++k) {
        const bool both_errors = i > 0 && j < 4;
        const double open = both_errors ? bank.cov(k, errors[i - 1], errors[j - 1]) : 0;
        covariance += weights[k] * ((number(k, i) - moments.mean[i]) * (number(k, j) - moments.mean[j]) + open);
      }
      CAPTURE(i, j);
      CHECK(moments.cov[i][j] == Approx(covariance).epsilon(1e-12).margin(1e-15));
    }
  }
}
