// SPDX-License-Identifier: MIT
#include "model/duty/set_voltage.hpp"

#include <cmath>

#include "tests/model/duty/linear_cell.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::duty;

namespace {

const BreathLoad pacing{.burst_mA = 70, .rest_mA = 2.2, .fraction = 0.28};

}  // namespace

TEST_CASE("the burst's voltage is open circuit less the mean in the slow and the seen burst in the fast resistance") {
  // By hand at x = 0.4, seen 0.5: 2 (1.35 - 0.021184 x 0.2 - 0.5 x 0.070 x 0.1) = 2.6845264 V
  const auto volts = pacing_V(example::unit(), example::linear_cell(), pacing, 1, 0.4);
  CHECK(volts == Approx(2.6845264).epsilon(1e-12));
}

TEST_CASE("a converter that sees the whole burst has the whole burst in the fast resistance") {
  Stimulator unit = example::unit();
  unit.burst_seen = 1;
  CHECK(pacing_V(unit, example::linear_cell(), pacing, 1, 0.4) ==
        Approx(2 * (1.35 - 0.021184 * 0.2 - 0.070 * 0.1)).epsilon(1e-12));
}

TEST_CASE("an input capacitor that hides the burst still passes the mean through both resistances") {
  Stimulator unit = example::unit();
  unit.burst_seen = 0;
  CHECK(pacing_V(unit, example::linear_cell(), pacing, 1, 0.4) ==
        Approx(2 * (1.35 - 0.021184 * (0.2 + 0.1))).epsilon(1e-12));
}

TEST_CASE("a constant-power breath satisfies power equals voltage times current in burst and rest") {
  const Stimulator unit = example::unit(Converter::constant_power);
  const cell::Curve curve = example::linear_cell(2500, 0.4, 0.8);
  const auto state = breath_state(unit, curve, pacing, 1.1, 0.7);
  REQUIRE(state);
  const double burst_mA = 1.1 * 70 * 2.5 / state->burst_V, rest_mA = 1.1 * 2.2 * 2.5 / state->rest_V;
  CHECK(state->mean_mA == Approx(0.28 * burst_mA + 0.72 * rest_mA).epsilon(1e-10));
  CHECK(state->burst_V == Approx(2 * (1.2 - 1e-3 * (0.4 * state->mean_mA + 0.5 * 0.8 * burst_mA))).epsilon(1e-10));
  CHECK(state->rest_V == Approx(2 * (1.2 - 1e-3 * (0.4 * state->mean_mA + 0.8 * rest_mA))).epsilon(1e-10));
}

TEST_CASE("a constant-resistance breath satisfies Ohm's law in burst and rest") {
  const Stimulator unit = example::unit(Converter::constant_resistance);
  const cell::Curve curve = example::linear_cell(2500, 0.4, 0.8);
  const auto state = breath_state(unit, curve, pacing, 0.9, 0.7);
  REQUIRE(state);
  const double burst_mA = 0.9 * 70 * state->burst_V / 2.5, rest_mA = 0.9 * 2.2 * state->rest_V / 2.5;
  CHECK(state->mean_mA == Approx(0.28 * burst_mA + 0.72 * rest_mA).epsilon(1e-10));
  CHECK(state->burst_V == Approx(2 * (1.2 - 1e-3 * (0.4 * state->mean_mA + 0.5 * 0.8 * burst_mA))).epsilon(1e-10));
}

TEST_CASE("a steady power is fed until the square of the voltage falls to four times power and resistance") {
  // One cell, U = 1.55 - 0.5 x, R = 3 ohm, 150 mW: U^2 = 4 x 0.15 x 3 = 1.8, so x = (1.55 - 1.341641) / 0.5 = 0.416718.
  // There V = U / 2 = 0.67 V: a cut-off of 0.5 V is never reached.
  const Stimulator unit = example::single_cell_unit(Converter::constant_power, 0.5, 1.0);
  const cell::Curve curve = example::linear_cell(2500, 0, 3);
  const BreathLoad load = steady_load(150);
  const double fed_until = (1.55 - std::sqrt(1.8)) / 0.5;
  CHECK(cutoff_depth(unit, curve, load, 1) == Approx(fed_until).margin(1e-10));
  CHECK(breath_state(unit, curve, load, 1, fed_until - 1e-6));
  CHECK_FALSE(breath_state(unit, curve, load, 1, fed_until + 1e-6));
  CHECK(pacing_V(unit, curve, load, 1, fed_until + 1e-6) == 0);
}

TEST_CASE("the same power through the slow resistance ends at the same depth") {
  const Stimulator unit = example::single_cell_unit(Converter::constant_power, 0.5, 1.0);
  CHECK(cutoff_depth(unit, example::linear_cell(2500, 3, 0), steady_load(150), 1) ==
        Approx((1.55 - std::sqrt(1.8)) / 0.5).margin(1e-8));
}

TEST_CASE("beyond feeding the converter's factor stays at its last value") {
  const Stimulator unit = example::single_cell_unit(Converter::constant_power, 0.5, 1.0);
  const cell::Curve curve = example::linear_cell(2500, 0, 3);
  // At the limit V = U / 2 = sqrt(1.8) / 2, so the factor is 2 / sqrt(1.8)
  CHECK(mean_converter_factor(unit, curve, steady_load(150), 1, 0.9) == Approx(2 / std::sqrt(1.8)).epsilon(1e-4));
}

TEST_CASE("the linear cell at a steady 100 mA is at 1.10 V at depth 0.84") {
  // Identity: 1.55 - 0.5 x - 0.03 = 1.10
  const Stimulator unit = example::single_cell_unit(Converter::constant_current, 1.10, 1.5);
  CHECK(cutoff_depth(unit, example::linear_cell(), steady_load(100), 1) == Approx(0.84).margin(1e-9));
}

TEST_CASE("a set that is fresh and already below cut-off is at depth nought") {
  Stimulator unit = example::unit();
  unit.cutoff_V = 3.2;
  CHECK(cutoff_depth(unit, example::linear_cell(), pacing, 1) == 0);
}

TEST_CASE("where the voltage never falls to cut-off the set ends with its charge") {
  Stimulator unit = example::unit();
  unit.cutoff_V = 1.0;
  CHECK(cutoff_depth(unit, example::linear_cell(), pacing, 1) == 1);
}

TEST_CASE("more use lowers the voltage and brings cut-off to a smaller depth") {
  for (const auto converter :
       {Converter::constant_current, Converter::constant_power, Converter::constant_resistance}) {
    Stimulator unit = example::unit(converter);
    unit.cutoff_V = 2.3;
    const cell::Curve curve = example::linear_cell();
    CHECK(pacing_V(unit, curve, pacing, 1.2, 0.5) < pacing_V(unit, curve, pacing, 1.0, 0.5));
    CHECK(cutoff_depth(unit, curve, pacing, 1.2) < cutoff_depth(unit, curve, pacing, 1.0));
  }
}

TEST_CASE("at one depth a set shows least in bursts, more when idle, more when just switched on, most when off") {
  for (const auto converter :
       {Converter::constant_current, Converter::constant_power, Converter::constant_resistance}) {
    const Stimulator unit = example::unit(converter);
    const cell::Curve curve = example::linear_cell();
    const double idle = idle_V(unit, Side::left, curve, 1, 0.5), on = just_on_V(unit, Side::left, curve, 1, 0.5);
    CHECK(pacing_V(unit, curve, pacing, 1, 0.5) < idle);
    CHECK(idle < on);
    CHECK(on < off_V(unit, Side::left, curve, 1, 0.5));
    CHECK(off_V(unit, Side::left, curve, 1, 0.5) < 2 * curve.open_circuit_V(0.5));
  }
}

TEST_CASE("the unit's warning is reached where the pacing voltage is the warning's") {
  const Stimulator unit = example::unit(Converter::constant_power);
  const cell::Curve curve = example::linear_cell();
  const double depth = depth_at_pacing_V(unit, curve, pacing, 1, 2.4);
  CHECK(pacing_V(unit, curve, pacing, 1, depth) == Approx(2.4).epsilon(1e-9));
}
