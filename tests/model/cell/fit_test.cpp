// SPDX-License-Identifier: MIT
// The truth here is the made-up cell from which the rows were computed.
#include <cmath>

#include "model/cell/residuals.hpp"
#include "model/cell/runtime.hpp"
#include "tests/model/cell/cell_fixture.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer::cell;
using cellarer::cell::test::known_parameters;
using cellarer::cell::test::published;
using cellarer::cell::test::row;

TEST_CASE("a fit gives back the hours of the cell that its rows were computed from") {
  const FitSummary summary = fit(published(known_parameters()));
  REQUIRE(summary.usable);
  CHECK(summary.converged);
  CHECK(summary.rms_log_residual < 0.006);
  const Curve truth = curve_of(known_parameters());
  for (const double mA : {40.0, 60.0, 200.0}) {  // loads that the rows do not have
    const Load load{LoadKind::current, mA};
    CHECK(discharge(summary.curve, load, 0.95).hours == Approx(discharge(truth, load, 0.95).hours).epsilon(0.015));
  }
}

TEST_CASE("the fixture of a source is not passed on") {
  PublishedCell cell = published(known_parameters());
  cell.source.fixture_ohm = 0.05;
  const FitSummary summary = fit(cell);
  CHECK(summary.parameters[fixture_ohm] == Approx(0.05).margin(0.015));
  const Load load{LoadKind::current, 500};
  const double with = discharge(summary.curve, load, 0.9, {summary.parameters[fixture_ohm], 1, 0}).hours;
  CHECK(discharge(summary.curve, load, 0.9).hours > 1.02 * with);
}

TEST_CASE("a row left out is predicted and does not move the fit") {
  PublishedCell cell = published(known_parameters());
  *cell.discharges[5].hours *= 3;  // a misprint
  FitOptions options;
  options.left_out = {5};
  const FitSummary summary = fit(cell, options);
  CHECK_FALSE(summary.points[5].in_fit);
  CHECK(summary.points[5].log_residual == Approx(-std::log(3.0)).margin(0.02));
  CHECK(summary.rms_log_residual < 0.006);
}

TEST_CASE("one misprint among many rows is named and moves the others little") {
  PublishedCell cell = published(known_parameters());
  *cell.discharges[5].hours *= 1.6;
  const FitSummary summary = fit(cell);
  const double truth = discharge(curve_of(known_parameters()), {LoadKind::current, 50}, 0.9).hours;
  CHECK(discharge(summary.curve, {LoadKind::current, 50}, 0.9).hours == Approx(truth).epsilon(0.05));
  bool named = false;
  for (const std::string& caution : summary.cautions) named = named || caution.rfind("Discharge 5", 0) == 0;
  CHECK(named);
}

TEST_CASE("figures that no one cell can have are not usable, and the summary says by how much") {
  PublishedCell cell = published(known_parameters());
  for (std::size_t i = 0; i < cell.discharges.size(); i += 2) *cell.discharges[i].hours *= 2.5;
  const FitSummary summary = fit(cell);
  CHECK_FALSE(summary.usable);
  CHECK(summary.why_not.find("off by") != std::string::npos);
}

TEST_CASE("one published point is enough for a usable fit that says what it rests on") {
  PublishedCell cell = published(known_parameters());
  cell.discharges = {cell.discharges[5]};  // 100 mA to 1.0 V
  const FitSummary summary = fit(cell);
  REQUIRE(summary.usable);
  CHECK(summary.points[0].log_residual == Approx(0).margin(0.03));
  CHECK_FALSE(summary.cautions.empty());
  const PublishedCell all = published(known_parameters());
  const Load low{LoadKind::current, 25};
  CHECK(fit_log_sd(summary, low, 0.9, std::nullopt) > 2 * fit_log_sd(fit(all), low, 0.9, std::nullopt));
}

TEST_CASE("a capacity says the same as the hours that it comes from") {
  PublishedCell hours = published(known_parameters()), capacity = hours;
  for (Discharge& discharge_row : capacity.discharges) {
    if (discharge_row.load.kind != LoadKind::current) continue;
    discharge_row.capacity_mAh = *discharge_row.hours * discharge_row.load.value;
    discharge_row.hours.reset();
  }
  CHECK((fit(hours).parameters - fit(capacity).parameters).cwiseAbs().maxCoeff() < 1e-6);
}

TEST_CASE("a discharge in the cold is kept as a row and left out of the fit") {
  PublishedCell cell = published(known_parameters());
  Discharge cold = row({LoadKind::current, 100}, 0.9);
  cold.hours = 4;
  cold.temperature_C = -10;
  cell.discharges.push_back(cold);
  const FitSummary summary = fit(cell);
  CHECK_FALSE(summary.points.back().in_fit);
  CHECK(summary.rms_log_residual < 0.006);
  CHECK(summary.range.lowest_C == 21);
}

TEST_CASE("cells of another kind are not usable") {
  PublishedCell cell = published(known_parameters());
  for (const char* designation : {"HR6", "KR6", "FR6", "6LR61", "CR17345"}) {
    cell.designation = designation;
    const FitSummary summary = fit(cell);
    INFO(designation);
    CHECK_FALSE(summary.usable);
    CHECK_FALSE(summary.why_not.empty());
    CHECK_FALSE(make_profile(cell, summary).usable);
  }
}

TEST_CASE("the derivatives of the rows agree with central differences") {
  const PublishedCell cell = published(known_parameters());
  const Parameters at = lr6_prior().mean;
  const Residuals residuals(cell, {}, at);
  const Eigen::MatrixXd given = residuals.derivatives(at);
  constexpr double half = 1e-4;
  for (int k = 0; k < parameter_count; ++k) {
    Parameters up = at, down = at;
    up[k] += half;
    down[k] -= half;
    const Eigen::VectorXd central = (residuals.evaluate(up) - residuals.evaluate(down)) / (2 * half);
    INFO(name_of_parameter(k));
    CHECK((given.col(k) - central).cwiseAbs().maxCoeff() <= 0.02 * (1 + central.cwiseAbs().maxCoeff()));
  }
}

TEST_CASE("figures that no cell has are not usable, and every number stays finite") {
  PublishedCell cell;
  cell.id = cell.brand = "tiny";
  cell.designation = "LR6";
  cell.discharges.push_back(cellarer::cell::test::row({LoadKind::current, 100}, 0.9));
  for (const double hours : {0.001, 100'000.0}) {
    cell.discharges[0].hours = hours;
    const FitSummary summary = fit(cell);
    CHECK_FALSE(summary.usable);
    CHECK_FALSE(summary.why_not.empty());
    CHECK(summary.parameters.allFinite());
    CHECK(summary.curve.slow_ohm(1) < 1e5);
  }
}

TEST_CASE("a second cell that is not told apart weighs as one that is") {
  PublishedCell unnamed = published(known_parameters()), named = unnamed;
  const std::size_t rows = unnamed.discharges.size();
  for (std::size_t i = 0; i < rows; ++i) {
    Discharge second = unnamed.discharges[i];
    unnamed.discharges.push_back(second);
    second.specimen = "b";
    named.discharges[i].specimen = "a";
    named.discharges.push_back(second);
  }
  const FitSummary a = fit(unnamed), b = fit(named);
  for (std::size_t i = 0; i < rows; ++i) CHECK(a.points[i].log_sd == Approx(b.points[i].log_sd));
}
