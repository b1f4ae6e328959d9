// SPDX-License-Identifier: MIT
// How near the fits of data/cells come to what was measured and published, and where the family's prior is from.
#include <cmath>

#include "model/cell/learn.hpp"
#include "model/cell/runtime.hpp"
#include "model/cell/score.hpp"
#include "server/commands/cell_files.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;

namespace {

const std::vector<cell::PublishedCell>& cells() {
  static const auto all = commands::read_cell_folder(CELLARER_SOURCE_DIR "/data/cells");
  return all;
}

double capacity_at(const std::string& id, double current_mA, double cutoff_V) {
  const auto cell = commands::read_cell_path(CELLARER_SOURCE_DIR "/data/cells/" + id + ".json");
  cell::RuntimeRequest request;
  request.load = {cell::LoadKind::current, current_mA};
  request.cutoff_V = cutoff_V;
  return cell::runtime(cell, cell::fit(cell), request).runtime->capacity_mAh;
}

}  // namespace

TEST_CASE("the family's prior in the program is the one that data/cells gives") {
  const cell::FamilyPrior learned = cell::learn_prior(cell::learnable(cells()), {}), kept = cell::lr6_prior();
  for (int i = 0; i < cell::parameter_count; ++i) {
    INFO(cell::name_of_parameter(i));
    const double sd = std::sqrt(learned.covariance(i, i));
    // Kept with five digits, and another machine's rounding moves the search a little.
    CHECK(kept.mean[i] == Approx(learned.mean[i]).margin(0.02 * sd));
    CHECK(std::sqrt(kept.covariance(i, i)) == Approx(sd).epsilon(0.02));
  }
}

TEST_CASE("the accuracy table reaches its targets") {
  const cell::AccuracyTable table = cell::score(cells());
  REQUIRE(table.brands.size() == 13);
  CHECK(table.fitted.mean() <= 0.020);
  CHECK(table.left_out.mean() <= 0.030);
  CHECK(table.across_to_500.mean() <= 0.085);
  CHECK(table.across_to_100.mean() <= 0.055);
  CHECK(table.across_to_500.mean() <= table.ridge_to_500.mean());
  CHECK(table.across_to_100.mean() <= table.ridge_to_100.mean());
  // 25, 200 and 1000 mA: E91 (two readings), Coppertop, denkatsu A to C.
  REQUIRE(table.points.size() == 11);
  CHECK(table.largest_in_fit <= 0.12);
  CHECK(table.largest_out_of_fit <= 0.20);
}

TEST_CASE("the family delivers what is published for good cells from 25 mA to 1 A") {
  // E91 data sheet and kurokatta.org 2019, chart readings, to 0.8 V: 3000 mAh at 25 mA; 2500 to 2700 at 100 mA;
  // 1500 to 1650 at 500 mA; 1000 to 1250 at 1 A. yes-online.jp: 788 to 882 at 1 A to 0.9 V. The family's mean is
  // between brands of which these are the better half: 12 % either way.
  CHECK(capacity_at("lr6-family", 25, 0.8) == Approx(3000).epsilon(0.12));
  CHECK(capacity_at("lr6-family", 100, 0.8) == Approx(2600).epsilon(0.12));
  CHECK(capacity_at("lr6-family", 500, 0.8) == Approx(1575).epsilon(0.12));
  CHECK(capacity_at("lr6-family", 1000, 0.8) == Approx(1125).epsilon(0.12));
  CHECK(capacity_at("lr6-family", 1000, 0.9) == Approx(840).epsilon(0.12));
}

TEST_CASE("a specification far below the measured brands is followed, not averaged away") {
  // Sunmol LR6 specification, 43 ohm 4 h a day to 0.9 V: 2200 mAh, where the family gives a quarter more. The one
  // point has to pull the fit to within 12 %, and the profile has to stay usable.
  const auto sunmol = commands::read_cell_path(CELLARER_SOURCE_DIR "/data/cells/lr6-sunmol.json");
  const auto summary = cell::fit(sunmol);
  CHECK(summary.usable);
  CHECK(summary.points[0].fitted == Approx(2200).epsilon(0.12));
  cell::FitOptions options;
  options.left_out = {0};
  CHECK(cell::fit(sunmol, options).points[0].fitted > 1.15 * 2200);
}
