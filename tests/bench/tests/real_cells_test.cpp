// SPDX-License-Identifier: MIT
/// The replay of real discharges: that it replays the logs, sees no cell beforehand, and reaches what is asked of it.
#include <algorithm>
#include <cmath>
#include <sstream>
#include <stdexcept>

#include <nlohmann/json.hpp>

#include "model/cell/score_rows.hpp"
#include "server/commands/cell_files.hpp"
#include "tests/bench/real_cells.hpp"
#include "tests/bench/real_cells_profiles.hpp"
#include "tests/bench/report/table.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::bench;

namespace {

std::vector<cell::PublishedCell> all_cells() { return commands::read_cell_folder(CELLARER_SOURCE_DIR "/data/cells"); }

/// Some ten seconds: once for all tests.
const RealCells& replayed() {
  static const RealCells result = replay_real_cells(all_cells());
  return result;
}

}  // namespace

TEST_CASE("every discharge of two specimens is replayed, and the time left is the log's") {
  CHECK(replayed().row({100, 0.5, true, true}).discharges == 26);
  CHECK(replayed().row({500, 0.9, false, false}).discharges == 26);
  int found = 0;
  for (const auto& one : replayed().forecasts) {
    if (one.brand != "Duracell Procell" || one.specimen != "a" || one.current_mA != 100) continue;
    ++found;
    // 24.866 h to 0.90 V (public logs of Moragor/BatteryAnalyzer_MkII)
    CHECK(one.truth_h == Approx((1 - one.share_of_life) * 24.866));
    CHECK(one.p05_h <= one.p50_h);
    CHECK(one.p50_h <= one.p95_h);
  }
  CHECK(found == 4 * 2 * 2);
}

TEST_CASE(
    "without a reading the replay errs as the profiles are known to: 3.8 % and 12.7 % of the time left at half life") {
  // The known errors that the trial's targets are stated beside; two ways of making the family differ by a point.
  CHECK(replayed().row({100, 0.5, true, false}).median_error == Approx(0.038).margin(0.005));
  CHECK(replayed().row({100, 0.5, false, false}).median_error == Approx(0.127).margin(0.02));
}

TEST_CASE("at half life, brand known, the replay reaches its target: 4.0 % of the time left, 20 of 26 covered") {
  const auto& known = replayed().row({100, 0.5, true, true});
  CHECK(known.median_error <= 0.040);
  CHECK(known.covered >= 20);
  CHECK(replayed().row({100, 0.5, false, true}).covered >= 20);
}

TEST_CASE("the plain regression knows other brands alone, and finds a rule that they all follow") {
  auto cells = all_cells();
  std::erase_if(cells, [](const auto& cell) { return !cell::has_both_loads(cell); });
  const auto procell = cells.front();
  // Nothing has passed: the geometric mean of the other brands' lives at 100 mA, whatever this cell does.
  double sum = 0;
  int count = 0;
  for (const auto& cell : cells) {
    if (cell.brand == procell.brand) continue;
    for (const auto& row : cell.discharges) {
      if (cell::is_current(row, 100) && cell::centivolts(row.cutoff_V) == 90) sum += std::log(*row.hours), ++count;
    }
  }
  CHECK(count == 2 * 12);
  CHECK(regressed_life_h(cells, procell, "a", 100, 1e-6) == Approx(std::exp(sum / count)));
  // Were every cell's life twice its hours to 1.20 V, that would be what is regressed.
  const auto hours_to = [](cell::PublishedCell& cell, const std::string& specimen, int level) -> double& {
    const auto row = std::find_if(cell.discharges.begin(), cell.discharges.end(), [&](const auto& one) {
      return one.specimen == specimen && cell::is_current(one, 100) && cell::centivolts(one.cutoff_V) == level;
    });
    return *row->hours;
  };
  for (auto& cell : cells) {
    for (const auto& specimen : specimens_of(cell)) hours_to(cell, specimen, 90) = 2 * hours_to(cell, specimen, 120);
  }
  auto& invented = cells.front();
  const double half_life_h = hours_to(invented, "b", 120);
  CHECK(regressed_life_h(cells, invented, "b", 100, half_life_h) == Approx(2 * half_life_h).epsilon(0.01));
  CHECK(replayed().row({100, 0.5, false, true}).regressed_error);
  CHECK_FALSE(replayed().row({100, 0.5, true, true}).regressed_error);
}

TEST_CASE("what is printed and what is written as figures are the same rows") {
  const auto figures = to_json(replayed());
  CHECK(figures["rows"].size() == replayed().rows.size());
  CHECK(figures["half_life_error"]["known"] == replayed().row({100, 0.5, true, true}).median_error);
  CHECK(figures["half_life_error"]["unknown"] == replayed().row({100, 0.5, false, true}).median_error);
  std::ostringstream out;
  print(out, replayed());
  for (const auto& row : replayed().rows) CHECK(out.str().find(percent(row.median_error)) != std::string::npos);
}

TEST_CASE("without a family profile there is no unknown brand to replay") {
  auto cells = all_cells();
  std::erase_if(cells, [](const cell::PublishedCell& cell) { return cell.family; });
  CHECK_THROWS_AS(replay_real_cells(cells), std::invalid_argument);
  CHECK_THROWS_AS(replayed().row({250, 0.5, true, true}), std::out_of_range);
}
