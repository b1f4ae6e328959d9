// SPDX-License-Identifier: MIT
// From a household's entries to what its finished sets say of their use.
#include "model/review/finished_sets.hpp"

#include <Eigen/Dense>
#include <array>
#include <cmath>

#include "model/duty/load.hpp"
#include "model/duty/set_voltage.hpp"
#include "model/life/course.hpp"
#include "model/life/gauge.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/life_world.hpp"

using namespace cellarer;
using namespace cellarer::review;
using namespace std::chrono_literals;

namespace {

/// Volts of the set as the model's own curve gives them at this relative use, read while pacing.
double set_V(const testing::World& world, Instant at, double use) {
  const auto& unit = world.household.units.front().stimulator;
  const auto& cell = world.household.cell_profiles.at("lr6-plain");
  const life::Course course(world.household, Side::left, world.start, at + 24h);
  const double spent = course.charge_mAh(at) * use / (cell.curve.capacity_mAh() * 0.94);
  return duty::pacing_V(unit, cell.curve, course.phases().front().pacing, use, spent);
}

std::vector<SetRecord> records_of(const testing::World& world) {
  life::LoadTables tables;
  return finished_sets(world.household, "h-1", world.start + 24h * 60, tables);
}

}  // namespace

TEST_CASE("what is taken off a belief again is what was put on: product of normal densities") {
  // Prior times likelihood in closed form; dividing by the prior gives the likelihood back. Offset known: no part.
  life::SetBelief before;
  before.cov = life::SetBelief::Vector(0.04, 9, 1e-4, 1e-4, 4e-4).asDiagonal();
  const double noise = 0.03, seen = 0.08, loading = -0.0125;
  const life::SetBelief::Vector column(1, loading, 0, 0, 0);
  const auto row = column.transpose();
  const life::SetBelief::Matrix precision = before.cov.inverse() + column * row / (noise * noise);
  life::SetBelief after;
  after.cov = precision.inverse();
  after.mean = after.cov * column * seen / (noise * noise);
  const auto observed = observed_use(before, after);
  REQUIRE(observed.has_value());
  CHECK(observed->log_ratio == Approx(seen));
  CHECK(observed->standard_error == Approx(noise));
  CHECK(observed->bias_loading == Approx(loading));
  CHECK_FALSE(observed_use(before, before).has_value());
}

TEST_CASE("a side that draws a tenth more is seen to, by a voltmeter, at whatever depth") {
  for (const double use : {1.0, 1.1}) {
    testing::World world;
    for (const int day : {5, 7, 9}) {
      const auto at = world.start + 24h * day + 1h;
      world.read(Side::left, at, life::SetVolts{set_V(world, at, use)});
    }
    auto& out = world.change(Side::left, world.start + 24h * 10);
    out.cells.lot = "B2";
    const auto records = records_of(world);
    REQUIRE(records.size() == 1);
    REQUIRE(records.front().observed.has_value());
    const auto& seen = *records.front().observed;
    CHECK(seen.log_ratio == Approx(std::log(use)).margin(1.5 * seen.standard_error));
    CHECK(seen.standard_error < 0.08);
    CHECK(std::abs(seen.bias_loading) < 1e-3);
    CHECK(seen.readings == 3);
    CHECK(records.front().unit == "u-1");
    CHECK(records.front().cell_type == "lr6-plain");
    CHECK(records.front().settings->amplitude == 4.0);
    CHECK(records.front().expected_mAh > 0);
  }
}

TEST_CASE("a gauge that shows too much makes a set look less used, and the record says how much") {
  testing::World world;
  const auto at = world.start + 24h * 8 + 1h;
  const auto& gauge = world.household.units.front().stimulator.gauge;
  world.read(Side::left, at, life::PercentShown{std::round(life::gauge_percent(gauge, set_V(world, at, 1.0)))});
  world.change(Side::left, world.start + 24h * 9);
  const auto records = records_of(world);
  REQUIRE(records.size() == 1);
  REQUIRE(records.front().observed.has_value());
  CHECK(records.front().observed->bias_loading < -0.003);
}

TEST_CASE("a side that draws a quarter more is seen to by its gauge, not pulled towards what is usual") {
  // The model's own curve: the difference is the logarithm of the ratio, but for rounding to whole per cent and a tenth
  // of it, as readings that nothing let expect are doubted.
  std::array<double, 2> log_ratio{};
  for (const bool more : {false, true}) {
    testing::World world;
    const auto& gauge = world.household.units.front().stimulator.gauge;
    const double use = more ? 1.25 : 1.0;
    for (const int day : {2, 4, 6, 8}) {
      const auto at = world.start + 24h * day + 1h;
      world.read(Side::left, at, life::PercentShown{std::round(life::gauge_percent(gauge, set_V(world, at, use)))});
    }
    world.change(Side::left, world.start + 24h * 9);
    const auto records = records_of(world);
    REQUIRE(records.size() == 1);
    REQUIRE(records.front().observed.has_value());
    log_ratio[more ? 1 : 0] = records.front().observed->log_ratio;
  }
  CHECK(log_ratio[1] - log_ratio[0] == Approx(std::log(1.25)).margin(0.025));
}

TEST_CASE("settings changed while a set is in stand where they changed, with the charge drawn until then") {
  testing::World world;
  const auto at = world.start + 24h * 4;
  auto stronger = world.household.settings.front();
  stronger.from = at;
  stronger.amplitude = 4.6;
  world.household.settings.push_back(stronger);
  for (const int day : {8, 16}) world.change(Side::left, world.start + 24h * day);
  const auto records = records_of(world);
  REQUIRE(records.size() == 2);
  const auto &both = records[0], &after = records[1];
  CHECK(both.settings->amplitude == 4.0);
  REQUIRE(both.changes.size() == 1);
  CHECK(both.changes[0].to.from == at);
  // Four days before the change and four after, each of 10.5 h pacing by its own settings and 13.5 h of standby.
  const auto& electronics = world.household.units.front().stimulator.left;
  const auto day_mAh = [&](const duty::Settings& settings) {
    return 10.5 * duty::pacing_load(electronics, settings).mean_mA() + 13.5 * electronics.standby_mA;
  };
  const double old_mAh = day_mAh(*both.settings), new_mAh = day_mAh(stronger);
  CHECK(both.changes[0].share_before == Approx(old_mAh / (old_mAh + new_mAh)).margin(1e-3));
  CHECK(both.drawn_under() == nullptr);
  CHECK(both.settings_at_end()->amplitude == 4.6);
  CHECK(after.changes.empty());
  REQUIRE(after.drawn_under() != nullptr);
  CHECK(after.drawn_under()->amplitude == 4.6);
  // The exponent is felt by what each part drew: between that of the sets before and after.
  CHECK(both.exponent_loading > 0);
  CHECK(both.exponent_loading < after.exponent_loading);
}

TEST_CASE("settings noted an hour after the cells were changed are those of the set") {
  testing::World world;
  auto stronger = world.household.settings.front();
  stronger.from = world.start + 1h;
  stronger.amplitude = 4.6;
  world.household.settings.push_back(stronger);
  world.change(Side::left, world.start + 24h * 8);
  const auto records = records_of(world);
  REQUIRE(records.size() == 1);
  REQUIRE(records.front().drawn_under() != nullptr);
  CHECK(records.front().drawn_under()->amplitude == 4.6);
}

TEST_CASE("a set without a reading, and one that came out for a fault, say nothing of their use but are kept") {
  testing::World world;
  world.change(Side::left, world.start + 24h * 6);
  world.change(Side::left, world.start + 24h * 12, life::ChangeReason::fault);
  const auto records = records_of(world);
  REQUIRE(records.size() == 2);
  CHECK_FALSE(records[0].observed.has_value());
  CHECK_FALSE(records[1].observed.has_value());
  CHECK(records[1].ended == life::ChangeReason::fault);
}
