// SPDX-License-Identifier: MIT
// A profile from bench measurements, and what is told of bad ones.
#include "model/review/measured_unit.hpp"

#include "model/duty/load.hpp"
#include "model/review/comparisons.hpp"
#include "model/review/profile_effect.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/life_world.hpp"

using namespace cellarer;
using namespace cellarer::review;
using namespace std::chrono_literals;

namespace {

BenchMeasurements measured_from(const duty::SideElectronics& truth, std::initializer_list<double> amplitudes) {
  BenchMeasurements bench;
  bench.base = testing::plain_unit();
  for (const double amplitude : amplitudes)
    bench.bursts.push_back({Side::left, amplitude, duty::burst_current_mA(truth, amplitude)});
  return bench;
}

}  // namespace

TEST_CASE("measurements made from a known law give that law back") {
  // Identity: the fit of exact values of duty/load.hpp's formula.
  auto truth = testing::plain_unit().left;
  truth.burst_base_mA = 25, truth.burst_slope_mA = 40, truth.exponent = 1.6;
  const auto unit = measured_unit(measured_from(truth, {1, 2, 3, 4, 5, 6}));
  REQUIRE(unit.usable());
  CHECK(unit.profile.left.exponent == Approx(1.6).margin(1e-3));
  CHECK(unit.profile.left.burst_base_mA == Approx(25).margin(0.05));
  CHECK(unit.profile.left.burst_slope_mA == Approx(40).margin(0.05));
  CHECK(unit.residuals.size() == 6);
  for (const auto& residual : unit.residuals) CHECK(residual.relative() == Approx(0).margin(1e-4));
  CHECK(unit.profile.right.burst_base_mA == testing::plain_unit().right.burst_base_mA);
}

TEST_CASE("one amplitude scales the model's law, and a serial number that draws more shows it") {
  auto truth = testing::plain_unit().left;
  truth.burst_base_mA *= 1.1, truth.burst_slope_mA *= 1.1;
  const auto unit = measured_unit(measured_from(truth, {4}));
  CHECK(unit.profile.left.burst_slope_mA == Approx(truth.burst_slope_mA));
}

TEST_CASE("wrong units and impossible gauges are told, with what was probably meant") {
  auto bench = measured_from(testing::plain_unit().left, {2, 4});
  bench.bursts[1].current_mA = 0.07;
  auto problems = problems_of(bench);
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].field == "bursts/1/current_mA");
  CHECK(problems[0].words.find("write 70 mA") != std::string::npos);
  CHECK_FALSE(measured_unit(bench).usable());
  bench.bursts[1].current_mA = 70;
  bench.bursts[0].amplitude = 0;
  REQUIRE(problems_of(bench).size() == 1);
  CHECK(problems_of(bench)[0].field == "bursts/0/amplitude");
  bench.bursts[0].amplitude = 2;
  bench.gauge = {{3080, 100}, {2.1, 0}};
  CHECK(problems_of(bench).front().field == "gauge/0/set_V");
  CHECK(problems_of(bench).front().words.find("3.08 V") != std::string::npos);
  bench.gauge = {{3.0, 40}, {2.4, 60}};
  CHECK(problems_of(bench).front().words.find("does not fall") != std::string::npos);
  bench.gauge = {{2.4, 60}, {3.0, 40}};  // told at the lower voltage, wherever that was written
  CHECK(problems_of(bench).front().field == "gauge/0/percent");
  bench.gauge = {{3.0, 100}, {3.0, 90}};
  REQUIRE(problems_of(bench).size() == 1);
  CHECK(problems_of(bench).front().field == "gauge/1/set_V");
  bench.gauge = {{3.0, 100}, {2.1, 0}};
  bench.cutoff_V = 3.1;
  REQUIRE(problems_of(bench).size() == 1);
  CHECK(problems_of(bench).front().field == "cutoff_V");
}

TEST_CASE("a gauge in fractions is told at each point, with the per cent that were probably meant") {
  BenchMeasurements bench;
  bench.base = testing::plain_unit();
  bench.gauge = {{3.08, 1}, {2.54, 0.5}, {2.2, 0.07}, {2.1, 0}};
  const auto problems = problems_of(bench);
  REQUIRE(problems.size() == 3);  // nought is nought in both
  CHECK(problems[1].field == "gauge/1/percent");
  CHECK(problems[0].words.find("write 100 %") != std::string::npos);
  CHECK(problems[1].words.find("write 50 %") != std::string::npos);
  CHECK(problems[2].words.find("write 7 %") != std::string::npos);
  // One that is nearly spent, measured in per cent, is none of these.
  bench.gauge = {{2.3, 4}, {2.2, 1}, {2.1, 0}};
  CHECK(problems_of(bench).empty());
}

TEST_CASE("a profile that draws less would make a running forecast later, and that is told") {
  testing::World world;
  const auto as_of = world.start + 24h * 3;
  auto frugal = testing::plain_unit();
  for (auto* side : {&frugal.left, &frugal.right}) side->burst_base_mA *= 0.7, side->burst_slope_mA *= 0.7;
  for (const auto& effect : effect_of_profile(world.household, "u-1", frugal, as_of)) CHECK(effect.later());
  for (const auto& effect : effect_of_profile(world.household, "u-1", testing::plain_unit(), as_of))
    CHECK_FALSE(effect.moves());
}

TEST_CASE("a difference of two groups has the textbook's mean and standard error") {
  // Two means of independent values with equal variance: difference, and root of the variances' sum.
  HouseholdHistory history;
  history.household = "h-1";
  const Instant start = date::sys_days(date::year(2026) / 1 / 1);
  for (int k = 0; k < 8; ++k) {
    SetRecord record;
    record.side = k < 4 ? Side::left : Side::right;
    record.from = start + 24h * k;
    record.to = record.from + 24h;
    record.unit = k % 4 < 2 ? "u-1" : "u-2";
    record.settings =
        duty::Settings{k % 4 < 2 ? start - 1h : record.from - 24h * (k % 2), record.side, 12, 0.28, 4.0, {}};
    record.observed = ObservedUse{k < 4 ? 0.10 : 0.02, 0.03, 0, 0.8, 1};
    history.records.push_back(record);
  }
  const Spreads spreads;
  const auto sides = left_over_right(history, spreads);
  REQUIRE(sides.has_value());
  CHECK(sides->more == Approx(0.08));
  CHECK(sides->standard_error == Approx(0.05 * std::sqrt(0.25 + 0.25)));
  const auto places = places_of_unit({history}, "u-2", spreads);
  REQUIRE(places.size() == 2);
  CHECK(places.front().more == Approx(0).margin(1e-12));
  CHECK(places.front().standard_error == Approx(0.05));
  // The settings changed together with the unit: nothing can be compared before and after.
  CHECK(after_settings_changes(history, spreads).empty());
}
