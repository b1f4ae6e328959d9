// SPDX-License-Identifier: MIT
#include "model/duty/depth_table.hpp"

#include "tests/model/duty/linear_cell.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::duty;

namespace {

const BreathLoad pacing{.burst_mA = 70, .rest_mA = 2.2, .fraction = 0.28};

const auto all_converters = {Converter::constant_current, Converter::constant_power, Converter::constant_resistance};

}  // namespace

TEST_CASE("the linear cell gives the hours that follow on paper for current, resistance and power") {
  // U = 1.55 - 0.5 x, R = 0.3 ohm, Q = 2.5 Ah, to 1.10 V: 100 mA 21.000 h; 43 ohm 72.7423 h; 250 mW 9.934768 h
  // (closed forms; the resistance is the sum of slow and fast, as a continuous load sees it).
  const cell::Curve curve = example::linear_cell(2500, 0.2, 0.1);
  const auto unit = [](Converter converter) { return example::single_cell_unit(converter, 1.10, 1.5); };
  CHECK(hours_to_cutoff(unit(Converter::constant_current), curve, steady_load(100)) == Approx(21.000).epsilon(1e-8));
  CHECK(hours_to_cutoff(unit(Converter::constant_resistance), curve, steady_load(1500.0 / 43)) ==
        Approx(72.7423).epsilon(2e-6));
  CHECK(hours_to_cutoff(unit(Converter::constant_power), curve, steady_load(250 / 1.5)) ==
        Approx(9.934768).epsilon(2e-6));
}

TEST_CASE("a constant current ends after the capacity to cut-off over the current") {
  // n (U - I_m R_slow - seen I_b R_fast) = 2.3 gives x in closed form; hours = Q x / I_m
  Stimulator unit = example::unit();
  unit.cutoff_V = 2.3;
  const double depth = (1.55 - 0.021184 * 0.2 - 0.5 * 0.070 * 0.1 - 1.15) / 0.5;
  CHECK(hours_to_cutoff(unit, example::linear_cell(), pacing) == Approx(2500 * depth / 21.184).epsilon(1e-9));
}

TEST_CASE("doubling the capacity doubles the hours") {
  for (const auto converter : all_converters) {
    const Stimulator unit = example::unit(converter);
    const double once = hours_to_cutoff(unit, example::linear_cell(1300), pacing);
    CHECK(hours_to_cutoff(unit, example::linear_cell(2600), pacing) == Approx(2 * once).epsilon(1e-12));
  }
}

TEST_CASE("two equal cells in series last as one of twice the voltages and resistances") {
  // Identity: the pair, and one cell with 2 U, 2 R
  cell::Curve::Table open_V{}, slow{}, fast{};
  for (std::size_t i = 0; i < cell::Curve::points; ++i) {
    open_V[i] = 2 * (1.55 - 0.5 * static_cast<double>(i) / static_cast<double>(cell::Curve::points - 1));
    slow[i] = 2 * 0.2;
    fast[i] = 2 * 0.1;
  }
  const cell::Curve doubled(2500, open_V, slow, fast);
  for (const auto converter : all_converters) {
    Stimulator pair = example::unit(converter);
    pair.cutoff_V = 2.3;
    Stimulator one = pair;
    one.cells_in_series = 1;
    CHECK(hours_to_cutoff(pair, example::linear_cell(), pacing) ==
          Approx(hours_to_cutoff(one, doubled, pacing)).epsilon(1e-12));
  }
}

TEST_CASE("relative use of a cell without resistance divides the hours") {
  // R = 0: the voltages do not depend on the current, so 25 % more current is 25 % less time times 4/5
  const cell::Curve curve = example::linear_cell(2500, 0, 0);
  for (const auto converter : all_converters) {
    Stimulator unit = example::unit(converter);
    unit.cutoff_V = 2.3;
    CHECK(hours_to_cutoff(unit, curve, pacing, 1.25) ==
          Approx(hours_to_cutoff(unit, curve, pacing) / 1.25).epsilon(1e-9));
  }
}

TEST_CASE("depth after a charge and charge to a depth undo each other") {
  for (const auto converter : all_converters) {
    const DepthTable table(example::unit(converter), example::linear_cell(), pacing, 1.07);
    for (const double depth : {0.0, 0.001, 0.3333, 0.5, 0.8721, 1.0}) {
      CHECK(table.depth_after(table.charge_to(depth)) == Approx(depth).margin(1e-12));
    }
    CHECK(table.depth_after(-3) == 0);
    CHECK(table.depth_after(1e6) == 1);
  }
}

TEST_CASE("a constant-power converter of a cell without resistance draws the charge that the integral of U gives") {
  // dq = Q V / V_ref dx = Q n (1.55 - 0.5 x) / V_ref dx: to x the charge is Q n (1.55 x - 0.25 x^2) / V_ref
  const DepthTable table(example::unit(Converter::constant_power), example::linear_cell(2500, 0, 0), pacing, 1);
  CHECK(table.charge_to(0.8) == Approx(2500 * 2 * (1.55 * 0.8 - 0.25 * 0.64) / 2.5).epsilon(1e-9));
}

TEST_CASE("loads that take turns share their charge as drawn") {
  const Instant start{};
  const std::vector<Stretch> nights{
      {start, start + std::chrono::hours(10), Activity::pacing, pacing, 0},
      {start + std::chrono::hours(10), start + std::chrono::hours(24), Activity::standby, steady_load(0.6), 0},
      {start + std::chrono::hours(24), start + std::chrono::hours(34), Activity::pacing, pacing, 0}};
  const auto shares = load_shares(nights);
  // 20 h x 21.184 mA = 423.68 mAh against 14 h x 0.6 mA = 8.4 mAh
  REQUIRE(shares.size() == 2);
  CHECK(shares[0].share == Approx(423.68 / 432.08));
  CHECK(shares[1].share == Approx(8.4 / 432.08));
  CHECK(load_shares({{start, start + std::chrono::hours(1), Activity::off, steady_load(0), 0}}).empty());
}

TEST_CASE("equal loads in any shares are one load") {
  const Stimulator unit = example::unit(Converter::constant_power);
  const cell::Curve curve = example::linear_cell();
  const DepthTable one(unit, curve, pacing, 1), parts(unit, curve, {{pacing, 0.4}, {pacing, 0.6}}, 1);
  CHECK(one.charge_to(0.8) == Approx(parts.charge_to(0.8)).epsilon(1e-12));
}
