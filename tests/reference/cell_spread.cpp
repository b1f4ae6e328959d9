// SPDX-License-Identifier: MIT
// The spread that data/reference/lr6-spread.json states, against the discharges in data/cells.
#include <cmath>
#include <fstream>
#include <map>

#include "model/cell/score_rows.hpp"
#include "server/commands/cell_files.hpp"
#include "server/json/field.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;

namespace {

nlohmann::json spread_file() {
  std::ifstream stream(CELLARER_SOURCE_DIR "/data/reference/lr6-spread.json");
  return nlohmann::json::parse(stream);
}

/// Hours at 100 mA of each brand's specimens to one cut-off.
std::vector<std::vector<double>> specimens(int cutoff_cV) {
  std::vector<std::vector<double>> brands;
  for (const auto& cell : commands::read_cell_folder(CELLARER_SOURCE_DIR "/data/cells")) {
    if (!cell::has_both_loads(cell)) continue;
    std::vector<double> hours;
    for (const auto& row : cell.discharges) {
      if (cell::is_current(row, 100) && cell::centivolts(row.cutoff_V) == cutoff_cV) hours.push_back(*row.hours);
    }
    brands.push_back(hours);
  }
  return brands;
}

}  // namespace

TEST_CASE("two cells of one brand differ as the spread file says") {
  const auto stated = spread_file()["between_two_cells_of_one_brand"];
  const std::map<int, const char*> cutoffs{{120, "to_1.2_V"}, {110, "to_1.1_V"}, {100, "to_1.0_V"}, {90, "to_0.9_V"}};
  for (const auto& [cutoff, name] : cutoffs) {
    double squares = 0;
    int pairs = 0;
    for (const auto& hours : specimens(cutoff)) {
      if (hours.size() != 2) continue;
      const double difference = std::log(hours[0] / hours[1]);
      squares += difference * difference / 2;
      ++pairs;
    }
    REQUIRE(pairs == 13);
    // 13 pairs of the 25 brands that the table was computed from: a standard deviation of 13 pairs is known to
    // a fifth of itself, so a third is allowed.
    CHECK(std::sqrt(squares / pairs) == Approx(stated[name].get<double>()).epsilon(0.34));
  }
}

TEST_CASE("brands differ as the spread file says") {
  const auto stated = spread_file()["between_brands"];
  for (const auto& [cutoff, name] :
       std::map<int, const char*>{{110, "to_1.1_V"}, {100, "to_1.0_V"}, {90, "to_0.9_V"}}) {
    std::vector<double> means;
    for (const auto& hours : specimens(cutoff)) means.push_back((hours.at(0) + hours.at(1)) / 2);
    double mean = 0, squares = 0;
    for (const double value : means) mean += value / static_cast<double>(means.size());
    for (const double value : means) squares += (value / mean - 1) * (value / mean - 1);
    const double variation = std::sqrt(squares / static_cast<double>(means.size() - 1));
    CHECK(variation == Approx(stated[name].get<double>()).epsilon(0.34));
  }
}
