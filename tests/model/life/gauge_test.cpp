// SPDX-License-Identifier: MIT
#include "model/life/gauge.hpp"

#include <cmath>

#include "tests/support/catch.hpp"
#include "tests/support/life_world.hpp"

using namespace cellarer;

TEST_CASE("the gauge passes through its profile's points and is straight between them") {
  // Identity: the profile's own points, and the middle of a straight line.
  const auto gauge = testing::plain_unit().gauge;
  for (const auto& [percent, volts] : gauge.volts_at_percent)
    REQUIRE(life::gauge_percent(gauge, volts) == Approx(percent));
  REQUIRE(life::gauge_percent(gauge, (2.66 + 2.54) / 2) == Approx(62.5));
}

TEST_CASE("beyond its ends the gauge goes on with the end's slope instead of clipping") {
  const auto gauge = testing::plain_unit().gauge;
  REQUIRE(life::gauge_percent(gauge, 3.08 + 0.042) == Approx(102.5));  // 25 points over 0.42 V
  REQUIRE(life::gauge_percent(gauge, 2.10 - 0.03) == Approx(-2.5));    // 25 points over 0.30 V
}

TEST_CASE("the voltage at which a gauge shows a figure is the one at which it shows it") {
  const auto gauge = testing::plain_unit().gauge;
  for (const double percent : {-7.0, 0.0, 12.0, 50.0, 81.5, 100.0, 104.0})
    REQUIRE(life::gauge_percent(gauge, life::gauge_volts(gauge, percent)) == Approx(percent));
}

TEST_CASE("a full and an empty gauge say only a bound") {
  REQUIRE(std::isinf(life::span_of_percent(100).high));
  REQUIRE(life::span_of_percent(100).low == 99.5);
  REQUIRE(std::isinf(life::span_of_percent(0).low));
  REQUIRE(life::span_of_percent(62).low == 61.5);
  REQUIRE(life::span_of_percent(62).high == 62.5);
}

TEST_CASE("the steps of a gauge cover the scale without gap or overlap") {
  for (const int of : {3, 5, 10}) {
    for (int step = 1; step < of; ++step)
      REQUIRE(life::span_of_step(step, of).high == life::span_of_step(step + 1, of).low);
    REQUIRE(life::span_of_step(1, of).low == 0);
    REQUIRE(std::isinf(life::span_of_step(of, of).high));
  }
}
