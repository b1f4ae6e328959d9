// SPDX-License-Identifier: MIT
// The curve of risk against sets: identities of the log-normal distribution, and the planned life of change_days.hpp,
// found there by another bisection.
#include "model/stock/risk_curve.hpp"

#include <cmath>

#include "model/stock/change_days.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer::stock;

TEST_CASE("with one changing time a day the wait is that of the stock's own policy", "[risk-curve]") {
  for (const double log_sd : {0.05, 0.1, 0.2}) {
    ChangeHabit habit;
    const double wait_h = planned_life_h(300, log_sd, habit);
    const auto point = curve_point({{300, log_sd}}, 1, habit.risk_limit, {habit.miss_probability, 0.5});
    CHECK(point.sets_a_year_p50 == Approx(8766 / (wait_h - 12)).epsilon(1e-6));
  }
}

TEST_CASE("without missed times the wait is the log-normal's own quantile", "[risk-curve]") {
  // Phi^-1(1e-3) = -3.0902 (Abramowitz and Stegun, table 26.5).
  const double wait_h = 300 * std::exp(-3.090232 * 0.1);
  const auto point = curve_point({{300, 0.1}}, 2, 1e-3, {0, 0.5});
  CHECK(point.sets_a_year_p50 == Approx(8766 / (wait_h - 6)).epsilon(1e-5));
  CHECK(point.charge_left_share == Approx(1 - (wait_h - 6) / (300 * std::exp(0.005))).epsilon(1e-5));
  CHECK(point.run_outs_a_year == Approx(point.sets_a_year_p50 * 1e-3));
}

TEST_CASE("more risk, or more changing times, never cost more sets; sides add up", "[risk-curve]") {
  double before = 1e9;
  for (const double limit : {1e-6, 1e-5, 1e-4, 1e-3}) {
    const auto once = curve_point({{300, 0.1}, {200, 0.12}}, 1, limit);
    const auto twice = curve_point({{300, 0.1}, {200, 0.12}}, 2, limit);
    CHECK(once.sets_a_year_p50 < before);
    CHECK(twice.sets_a_year_p50 < once.sets_a_year_p50);
    CHECK(once.sets_a_year_p05 < once.sets_a_year_p50);
    CHECK(once.sets_a_year_p50 < once.sets_a_year_p95);
    CHECK(once.sets_a_year_p50 == Approx(curve_point({{300, 0.1}}, 1, limit).sets_a_year_p50 +
                                         curve_point({{200, 0.12}}, 1, limit).sets_a_year_p50));
    before = once.sets_a_year_p50;
  }
  CHECK(curve_point({}, 1, 1e-5).sets_a_year_p50 == 0);
}

TEST_CASE("a side that lasts less than a day is changed at every time", "[risk-curve]") {
  CHECK(curve_point({{10, 0.1}}, 1, 1e-5).sets_a_year_p50 == Approx(365.25));
  CHECK(curve_point({{10, 0.1}}, 3, 1e-5).sets_a_year_p50 == Approx(3 * 365.25));
}
