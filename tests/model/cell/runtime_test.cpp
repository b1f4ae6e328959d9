// SPDX-License-Identifier: MIT
#include "model/cell/runtime.hpp"

#include <cmath>
#include <utility>

#include "tests/model/cell/cell_fixture.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer::cell;
using cellarer::cell::test::known_parameters;
using cellarer::cell::test::published;

namespace {

RuntimeRequest at(double current_mA, double cutoff_V = 0.9) {
  RuntimeRequest request;
  request.load = {LoadKind::current, current_mA};
  request.cutoff_V = cutoff_V;
  return request;
}

struct Known {
  PublishedCell cell = published(known_parameters());
  FitSummary summary = fit(cell);
  Runtime operator()(const RuntimeRequest& request) const { return runtime(cell, summary, request).runtime.value(); }
};

}  // namespace

TEST_CASE("the interval encloses the hours and is as wide as two cells of one brand differ, at least") {
  const Runtime answer = Known()(at(100));
  CHECK(answer.hours_low < answer.hours);
  CHECK(answer.hours < answer.hours_high);
  CHECK(answer.log_sd >= 0.023);
  CHECK(std::log(answer.hours_high / answer.hours) == Approx(1.6449 * answer.log_sd).epsilon(1e-4));
  CHECK(answer.inside_range);
}

TEST_CASE("intermittent hours carry ten per cent more width and come with a caution") {
  const Known known;
  RuntimeRequest request = at(100);
  const Runtime whole_day = known(request);
  request.hours_per_day = 8;
  const Runtime intermittent = known(request);
  CHECK(intermittent.log_sd >= 1.0999 * whole_day.log_sd);
  CHECK(intermittent.days == Approx(intermittent.hours / 8));
  CHECK_FALSE(intermittent.cautions.empty());
}

TEST_CASE("a load that takes years loses two per cent a year meanwhile") {
  // 3100 mAh at 0.1 mA would take 3.5 years; 2 % a year off a rate that takes all of it in t0 years leaves
  // t0 / (1 + 0.02 t0).
  const Known known;
  const double ideal = discharge(known.summary.curve, {LoadKind::current, 0.1}, 0.9).hours;
  const double depth = discharge(known.summary.curve, {LoadKind::current, 0.1}, 0.9).depth;
  CHECK(known(at(0.1)).hours == Approx(ideal / (1 + 0.02 * ideal / 8766 / depth)).epsilon(1e-9));
  CHECK(known(at(0.1)).hours < 0.97 * ideal);
}

TEST_CASE("nothing is corrected from 15 to 30 degrees, more width outside, and nothing said below 5") {
  const Known known;
  RuntimeRequest request = at(100);
  const double usual = known(request).log_sd;
  for (const double temperature : {15.0, 30.0}) {
    request.temperature_C = temperature;
    CHECK(known(request).log_sd == Approx(usual));
  }
  request.temperature_C = 8;
  CHECK(known(request).log_sd > 2 * usual);
  CHECK_FALSE(known(request).inside_range);
  request.temperature_C = 4.9;
  const RuntimeAnswer refused = runtime(known.cell, known.summary, request);
  CHECK_FALSE(refused.runtime.has_value());
  CHECK(refused.why_not.find("5 to 50 C") != std::string::npos);
}

TEST_CASE("a load outside the published currents is answered with a caution and more width") {
  const Known known;
  const Runtime inside = known(at(100)), outside = known(at(2));
  CHECK_FALSE(outside.inside_range);
  CHECK_FALSE(outside.cautions.empty());
  CHECK(outside.log_sd > inside.log_sd);
}

TEST_CASE("a cut-off above the fresh voltage under the load has no hours and says so") {
  const Known known;
  CHECK_FALSE(runtime(known.cell, known.summary, at(2000, 1.5)).runtime.has_value());
}

TEST_CASE("a cell of another kind is answered by Peukert's law inside its table and refused outside") {
  PublishedCell cell = published(known_parameters());
  cell.designation = "FR6";
  const FitSummary summary = fit(cell);
  const RuntimeAnswer inside = runtime(cell, summary, at(100));
  REQUIRE(inside.runtime.has_value());
  CHECK(inside.runtime->by_peukert);
  CHECK(
      inside.runtime->hours ==
      Approx(discharge(curve_of(known_parameters()), {LoadKind::current, 100}, 0.9, {0.05, 1, 0}).hours).epsilon(0.01));
  CHECK_FALSE(runtime(cell, summary, at(5)).runtime.has_value());
}

TEST_CASE("a table that no cell can have is not interpolated") {
  PublishedCell cell;
  cell.id = cell.brand = "misprinted";
  cell.designation = "LR6";
  for (const auto& [mA, hours] : {std::pair{50.0, 50.0}, {100.0, 60.0}}) {  // longer at the higher load
    cell.discharges.push_back(cellarer::cell::test::row({LoadKind::current, mA}, 0.9));
    cell.discharges.back().hours = hours;
  }
  const RuntimeAnswer answer = runtime(cell, fit(cell), at(80));
  CHECK_FALSE(answer.runtime.has_value());
  CHECK(answer.why_not.find("check the published figures") != std::string::npos);
}

TEST_CASE("figures that disagree with each other widen the interval") {
  PublishedCell cell = published(known_parameters());
  const double agreeing = runtime(cell, fit(cell), at(50)).runtime->log_sd;
  for (std::size_t i = 0; i < cell.discharges.size(); ++i) *cell.discharges[i].hours *= i % 2 == 0 ? 1.08 : 0.93;
  CHECK(runtime(cell, fit(cell), at(50)).runtime->log_sd > 1.5 * agreeing);
}

TEST_CASE("a profile carries the curve, the spread of the file and the fit's own uncertainty") {
  Known known;
  known.cell.spread = Spread{};
  known.cell.spread->brand_log_sd = 0.065;
  const Profile profile = make_profile(known.cell, known.summary);
  CHECK(profile.usable);
  CHECK(profile.spread.brand_log_sd == 0.065);
  CHECK(profile.spread.fit_log_sd >= 0.01);
  CHECK(profile.curve.capacity_mAh() == known.summary.curve.capacity_mAh());
}

TEST_CASE("at a published load and cut-off the hours are the published ones, and the bare cell's stand beside them") {
  PublishedCell cell = published(known_parameters());
  cell.source.fixture_ohm = 0.05;
  const FitSummary summary = fit(cell);
  for (const Discharge& row : cell.discharges) {
    RuntimeRequest request = at(0, row.cutoff_V);
    request.load = row.load;
    const Runtime answer = runtime(cell, summary, request).runtime.value();
    CHECK(answer.hours == Approx(*row.hours).epsilon(0.03));
    // Behind a resistor a fixture also makes the current smaller.
    if (row.load.kind == LoadKind::current) CHECK(answer.bare_hours >= answer.hours);
    request.fixture_ohm = 0;
    CHECK(runtime(cell, summary, request).runtime->hours == Approx(answer.bare_hours));
  }
}

TEST_CASE("a fixture is said where it matters: at a high load, not at a low one") {
  const Known known;
  RuntimeRequest request = at(500);
  request.fixture_ohm = 0.15;
  const Runtime high = known(request);
  CHECK(high.hours < 0.9 * high.bare_hours);
  REQUIRE_FALSE(high.cautions.empty());
  CHECK(high.cautions.back().find("0.15 ohm in series") != std::string::npos);
  request.load.value = 25;
  CHECK(known(request).cautions.empty());
}

TEST_CASE("the refusal for figures that contradict each other says so, not that the cut-off is not published") {
  PublishedCell cell;
  cell.id = cell.brand = "contradiction";
  cell.designation = "LR6";
  for (const double hours : {24.0, 6.0, 48.0}) {
    cell.discharges.push_back(cellarer::cell::test::row({LoadKind::current, 100}, 0.9));
    cell.discharges.back().hours = hours;
  }
  const RuntimeAnswer answer = runtime(cell, fit(cell), at(100));
  CHECK_FALSE(answer.runtime.has_value());
  CHECK(answer.why_not.find("do not fit one cell") != std::string::npos);
  CHECK(answer.why_not.find("ask for") == std::string::npos);
}
