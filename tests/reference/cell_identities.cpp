// SPDX-License-Identifier: MIT
// Identities of the cell model that can be worked out by hand.
#include <cmath>

#include "model/cell/discharge.hpp"
#include "model/cell/pair.hpp"
#include "model/cell/peukert.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer::cell;

namespace {

/// U = 1.55 - 0.5 x and one resistance.
Curve linear_cell(double capacity_mAh = 2500, double slope_V = 0.5, double ohm = 0.3) {
  Curve::Table open, slow, fast;
  for (std::size_t j = 0; j < Curve::points; ++j) {
    open[j] = 1.55 - slope_V * static_cast<double>(j) / (Curve::points - 1);
    slow[j] = ohm;
    fast[j] = 0;
  }
  return Curve(capacity_mAh, open, slow, fast);
}

constexpr Load current(double mA) { return {LoadKind::current, mA}; }

}  // namespace

// Closed forms: x = (1.55 - V - I R) / 0.5; t = Q x / I; for a resistance t = Q (R_L + R) / 0.5 ln(1.55 / U_end);
// for a power the integral of (U + sqrt(U^2 - 4 P R)) / (2 P).
TEST_CASE("a linear cell at 100 mA ends at depth 0.84 after 21.000 h") {
  const auto end = discharge(linear_cell(), current(100), 1.10);
  CHECK(end.depth == Approx(0.84).epsilon(1e-9));
  CHECK(end.hours == Approx(21.000).epsilon(1e-9));
  CHECK(end.capacity_mAh == Approx(2100).epsilon(1e-9));
}

TEST_CASE("a linear cell over 43 ohm ends at depth 0.884651 after 72.7423 h") {
  const auto end = discharge(linear_cell(), {LoadKind::resistance, 43}, 1.10);
  CHECK(end.depth == Approx(0.884651).margin(1e-6));
  CHECK(end.hours == Approx(72.7423).margin(1e-3));
}

TEST_CASE("a linear cell at 250 mW ends at depth 0.763636 after 9.934768 h") {
  const auto end = discharge(linear_cell(), {LoadKind::power, 250}, 1.10);
  CHECK(end.depth == Approx(0.763636).margin(1e-5));
  CHECK(end.hours == Approx(9.934768).margin(1e-4));
}

TEST_CASE("a power that the cell can no longer feed ends the discharge where U squared is 4 P R") {
  // R = 1.5 ohm, 250 mW: U = sqrt(1.5) = 1.224745 V at depth (1.55 - 1.224745) / 0.5 = 0.650510, where the
  // terminal voltage is still 0.61 V, above the cut-off.
  const auto end = discharge(linear_cell(2500, 0.5, 1.5), {LoadKind::power, 250}, 0.3);
  CHECK(end.depth == Approx(0.650510).margin(1e-4));
}

TEST_CASE("twice the capacity gives twice the hours") {
  for (const Load& load : {current(80), Load{LoadKind::resistance, 20}, Load{LoadKind::power, 150}}) {
    const double once = discharge(linear_cell(2500), load, 1.0).hours;
    CHECK(discharge(linear_cell(5000), load, 1.0).hours == Approx(2 * once).epsilon(1e-12));
  }
}

TEST_CASE("two equal cells in series behave as one of twice the voltage and twice the resistance") {
  const std::vector<InSeries> pair{{linear_cell(), 0, 1}, {linear_cell(), 0, 1}};
  const auto set = discharge_set(pair, current(100), 2.20);
  CHECK(set.hours == Approx(21.000).epsilon(1e-9));
  CHECK(set.end_V[0] == Approx(1.10).epsilon(1e-9));
  CHECK(set.end_V[1] == Approx(1.10).epsilon(1e-9));
  CHECK(discharge_set(pair, {LoadKind::resistance, 86}, 2.20).hours == Approx(72.7423).margin(1e-3));
  CHECK(discharge_set(pair, {LoadKind::power, 500}, 2.20).hours == Approx(9.934768).margin(1e-4));
}

TEST_CASE("without resistance the hours follow Peukert's law with exponent 1") {
  const Curve cell = linear_cell(2500, 0.5, 0);
  const double slow = discharge(cell, current(25), 1.1).hours, fast = discharge(cell, current(500), 1.1).hours;
  CHECK(std::log(slow / fast) / std::log(500.0 / 25) == Approx(1).epsilon(1e-6));
}

TEST_CASE("the E91 chart gives exponents 1.1315 from 25 to 100 mA and 1.3174 from 100 to 500 mA") {
  // Energizer E91 data sheet, capacities to 0.8 V read from the chart: 3000, 2500 and 1500 mAh.
  PublishedCell e91;
  for (const auto& [mA, mAh] : {std::pair{25.0, 3000.0}, {100.0, 2500.0}, {500.0, 1500.0}}) {
    Discharge row;
    row.load = current(mA);
    row.cutoff_V = 0.8;
    row.capacity_mAh = mAh;
    e91.discharges.push_back(row);
  }
  const Peukert law = peukert(e91);
  REQUIRE(law.cutoffs.size() == 1);
  REQUIRE(law.cutoffs[0].ranges.size() == 2);
  CHECK(law.cutoffs[0].ranges[0].exponent == Approx(1.1315).margin(5e-5));
  CHECK(law.cutoffs[0].ranges[1].exponent == Approx(1.3174).margin(5e-5));
  CHECK(peukert_hours(law, 100, 0.8)->hours == Approx(25));
  CHECK(peukert_hours(law, 100, 0.8)->inside_range);
  CHECK_FALSE(peukert_hours(law, 10, 0.8)->inside_range);
  CHECK_FALSE(peukert_hours(law, 100, 0.9).has_value());
}
