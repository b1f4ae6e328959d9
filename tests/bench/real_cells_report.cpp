// SPDX-License-Identifier: MIT
#include <ostream>

#include <nlohmann/json.hpp>

#include "tests/bench/real_cells.hpp"
#include "tests/bench/report/table.hpp"

namespace cellarer::bench {

namespace {

/// What is to be reached at half life at 100 mA, or nothing.
std::string target(const RealCellRow& row) {
  if (row.current_mA != 100 || row.share_of_life != 0.5 || !row.with_readings) return "";
  return row.brand_known ? "4.0 %, 20 of 26" : "8.5 %, 20 of 26";
}

}  // namespace

std::vector<TargetRow> targets_of(const RealCells& real_cells) {
  const auto row = [&](bool brand_known, bool with_readings) {
    return real_cells.row({100, 0.5, brand_known, with_readings});
  };
  const auto known = row(true, true), unknown = row(false, true);
  const auto covered = [](const RealCellRow& one) {
    return std::to_string(one.covered) + " of " + std::to_string(one.discharges);
  };
  constexpr int enough = 20;
  const auto peer = [](const std::optional<double>& error) { return error ? percent(*error) : "-"; };
  std::vector<TargetRow> rows;
  rows.push_back({"real cells at half life, brand known / unknown: median error", "at most 4.0 / 8.5 %",
                  percents(known.median_error, unknown.median_error),
                  "without a reading " + percents(row(true, false).median_error, row(false, false).median_error) +
                      "; brand unknown, all refitted " + peer(unknown.refitted_error) + ", plain regression " +
                      peer(unknown.regressed_error),
                  known.median_error <= 0.040 && unknown.median_error <= 0.085});
  rows.push_back({"the same: 90 % intervals that cover", "at least 20 of 26", covered(known) + " / " + covered(unknown),
                  "mean width " + percents(known.mean_width, unknown.mean_width),
                  known.covered >= enough && unknown.covered >= enough});
  return rows;
}

void print(std::ostream& out, const RealCells& real_cells) {
  Table table({"real cells", "mA", "life passed", "readings", "median error", "mean error", "90 % covers", "width",
               "all refitted", "regression", "target"});
  for (const auto& row : real_cells.rows) {
    table.add({row.brand_known ? "brand known" : "brand unknown", number(row.current_mA, 0),
               percent(row.share_of_life, 0), row.with_readings ? "yes" : "none", percent(row.median_error),
               percent(row.mean_error), number(row.covered, 0) + " of " + number(row.discharges, 0),
               percent(row.mean_width), row.refitted_error ? percent(*row.refitted_error) : "",
               row.regressed_error ? percent(*row.regressed_error) : "", target(row)});
  }
  table.print(out);
}

nlohmann::json to_json(const RealCells& real_cells) {
  const auto& known = real_cells.row({100, 0.5, true, true});
  const auto& unknown = real_cells.row({100, 0.5, false, true});
  auto rows = nlohmann::json::array();
  for (const auto& row : real_cells.rows) {
    rows.push_back({{"current_mA", row.current_mA},
                    {"share_of_life", row.share_of_life},
                    {"brand_known", row.brand_known},
                    {"with_readings", row.with_readings},
                    {"discharges", row.discharges},
                    {"median_error", row.median_error},
                    {"mean_error", row.mean_error},
                    {"covered90", row.covered},
                    {"width90", row.mean_width}});
    if (row.refitted_error) rows.back()["refitted_error"] = *row.refitted_error;
    if (row.regressed_error) rows.back()["regressed_error"] = *row.regressed_error;
  }
  return {{"half_life_error", {{"known", known.median_error}, {"unknown", unknown.median_error}}},
          {"half_life_covered90",
           {{"known", known.covered}, {"unknown", unknown.covered}, {"discharges", known.discharges}}},
          {"half_life_width90", {{"known", known.mean_width}, {"unknown", unknown.mean_width}}},
          {"rows", rows}};
}

}  // namespace cellarer::bench
