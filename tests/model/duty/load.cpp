// SPDX-License-Identifier: MIT
#include "model/duty/load.hpp"

#include "tests/model/duty/linear_cell.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer::duty;

TEST_CASE("at the reference amplitude the burst is base and slope together") {
  // 18 + 52 (4 / 4)^1 by the profile's own definition
  CHECK(burst_current_mA(example::unit().left, 4.0) == Approx(70));
}

TEST_CASE("an exponent of two quadruples the slope's part at twice the amplitude") {
  SideElectronics electronics = example::unit().left;
  electronics.exponent = 2;
  CHECK(burst_current_mA(electronics, 8.0) == Approx(18 + 4 * 52));
}

TEST_CASE("twelve breaths of 1.4 s inspiration leave the transmitter at work 0.28 of the time") {
  // f = r Ti / 60 = 12 x 1.4 / 60 = 0.28; I_m = 0.28 x 70 + 0.72 x 2.2 = 21.184 mA, worked by hand
  Settings settings;
  settings.rate_per_min = 12;
  settings.inspiratory_fraction = 12 * 1.4 / 60;
  settings.amplitude = 4;
  const BreathLoad load = pacing_load(example::unit().left, settings);
  CHECK(load.fraction == Approx(0.28));
  CHECK(load.burst_mA == Approx(70));
  CHECK(load.mean_mA() == Approx(21.184));
}

TEST_CASE("a steady load has its current as burst, rest and mean") {
  const BreathLoad load = steady_load(0.6);
  CHECK(load.burst_mA == 0.6);
  CHECK(load.rest_mA == 0.6);
  CHECK(load.mean_mA() == 0.6);
}

TEST_CASE("at the reference voltage no converter changes the current") {
  for (const auto converter :
       {Converter::constant_current, Converter::constant_power, Converter::constant_resistance}) {
    CHECK(converter_factor(converter, 2.5, 2.5) == Approx(1));
  }
}

TEST_CASE("at four fifths of the reference voltage power asks five quarters, resistance four fifths") {
  CHECK(converter_factor(Converter::constant_current, 2.5, 2.0) == Approx(1));
  CHECK(converter_factor(Converter::constant_power, 2.5, 2.0) == Approx(1.25));
  CHECK(converter_factor(Converter::constant_resistance, 2.5, 2.0) == Approx(0.8));
}
