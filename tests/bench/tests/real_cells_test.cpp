// SPDX-License-Identifier: MIT
/// The replay of real discharges: that it replays the logs, sees no cell beforehand, and reaches what is asked of it.
#include <sstream>
#include <stdexcept>

#include <nlohmann/json.hpp>

#include "server/commands/cell_files.hpp"
#include "tests/bench/real_cells.hpp"
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
