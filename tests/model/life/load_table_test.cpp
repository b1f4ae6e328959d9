// SPDX-License-Identifier: MIT
// The tables against what they are tables of, and the two identities of a stretched capacity.
#include "model/life/load_table.hpp"

#include "model/duty/depth_table.hpp"
#include "model/duty/set_voltage.hpp"
#include "model/life/stretched_depth.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/life_world.hpp"

using namespace cellarer;

namespace {

struct OneLoad {
  duty::Stimulator unit = testing::plain_unit();
  cell::Curve curve = testing::plain_cell().curve;
  duty::BreathLoad pacing{70, 2.2, 0.28};

  explicit OneLoad(duty::Converter converter) { unit.converter = converter; }
  life::LoadTable table() const { return {unit, curve, pacing}; }
};

}  // namespace

TEST_CASE(
    "the voltage looked up is the voltage solved: exactly for a constant current, within 2 mV for a constant power") {
  for (const auto& [converter, within_V] :
       {std::pair(duty::Converter::constant_current, 1e-9), std::pair(duty::Converter::constant_power, 2e-3)}) {
    const OneLoad load(converter);
    const auto table = load.table();
    for (const double use : {0.45, 0.8, 0.93, 1.07, 1.6, 2.4}) {
      for (const double depth : {0.0, 0.105, 0.5, 0.83, 0.9}) {
        const double solved_V = duty::pacing_V(load.unit, load.curve, load.pacing, use, depth);
        REQUIRE(table.pacing_V(depth, use) == Approx(solved_V).margin(within_V));
      }
    }
  }
}

TEST_CASE("the cut-off looked up is the cut-off solved, to a thousandth of the charge") {
  for (const auto converter :
       {duty::Converter::constant_current, duty::Converter::constant_power, duty::Converter::constant_resistance}) {
    const OneLoad load(converter);
    const auto table = load.table();
    for (const double use : {0.52, 0.9, 1.0, 1.13, 2.01})
      REQUIRE(table.cutoff_depth(use) ==
              Approx(duty::cutoff_depth(load.unit, load.curve, load.pacing, use)).margin(1e-3));
  }
}

TEST_CASE("the way along the curve is the charge of the duty room's own integration") {
  for (const auto converter : {duty::Converter::constant_current, duty::Converter::constant_power}) {
    const OneLoad load(converter);
    const auto table = load.table();
    const life::DepthScale scale(table, 1.0);
    const duty::DepthTable integrated(load.unit, load.curve, load.pacing, 1.0);
    for (const double depth : {0.1, 0.4, 0.7, 0.9})
      REQUIRE(scale.travelled(depth) * load.curve.capacity_mAh() == Approx(integrated.charge_to(depth)).epsilon(1e-3));
  }
}

TEST_CASE("capacity moves the charge to cut-off in its own proportion, and the first half of the life not at all") {
  // Identities of stretched_depth.hpp: x(y_c) = lambda y_c, x(y) = y up to y_c / 2.
  const OneLoad load(duty::Converter::constant_current);
  const auto table = load.table();
  const double ends = table.cutoff_depth(1.0);
  for (const double lambda : {0.52, 0.8, 1.0, 1.1, 1.6}) {
    const life::DepthScale scale(table, lambda);
    REQUIRE(scale.travelled(ends) == Approx(lambda * ends).epsilon(1e-3));
    REQUIRE(scale.travelled(0.4 * ends) == Approx(0.4 * ends).epsilon(1e-9));
    for (const double depth : {0.05, 0.45, 0.6, 0.99}) REQUIRE(scale.depth(scale.travelled(depth)) == Approx(depth));
  }
}

TEST_CASE("what was travelled leads back to its place, for every converter and capacity") {
  // An identity: one is the inverse of the other. Steps of 1/997 fall into every step of the curve, where the stretch
  // begins too.
  for (const auto converter :
       {duty::Converter::constant_current, duty::Converter::constant_power, duty::Converter::constant_resistance}) {
    const OneLoad load(converter);
    const auto table = load.table();
    for (const double lambda : {0.52, 0.9, 1.0, 1.07, 1.6}) {
      const life::DepthScale scale(table, lambda);
      CAPTURE(lambda);
      for (int step = 1; step < 997; ++step)
        REQUIRE(scale.depth(scale.travelled(step / 997.0)) == Approx(step / 997.0).epsilon(1e-9));
      REQUIRE(scale.depth(scale.travelled(1)) == Approx(1));
      REQUIRE(scale.depth(0) == 0);
    }
  }
}

TEST_CASE("equal loads of one unit and curve share a table") {
  const OneLoad load(duty::Converter::constant_current);
  life::LoadTables tables;
  const auto first = tables.get(load.unit, load.curve, load.pacing);
  REQUIRE(tables.get(load.unit, load.curve, {70, 2.2, 0.28}) == first);
  REQUIRE(tables.get(load.unit, load.curve, {71, 2.2, 0.28}) != first);
}

TEST_CASE("tables are shared by what they are made of, wherever that stands") {
  const OneLoad load(duty::Converter::constant_power), same(duty::Converter::constant_power);
  auto other = same;
  other.unit.cutoff_V += 0.05;
  life::LoadTables tables;
  const auto first = tables.get(load.unit, load.curve, load.pacing);
  REQUIRE(tables.get(same.unit, same.curve, same.pacing) == first);
  REQUIRE(tables.get(other.unit, other.curve, other.pacing) != first);
}
