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

void print(std::ostream& out, const RealCells& real_cells) {
  Table table({"real cells", "mA", "life passed", "readings", "median error", "mean error", "90 % covers", "width",
               "all refitted", "target"});
  for (const auto& row : real_cells.rows) {
    table.add({row.brand_known ? "brand known" : "brand unknown", number(row.current_mA, 0),
               percent(row.share_of_life, 0), row.with_readings ? "yes" : "none", percent(row.median_error),
               percent(row.mean_error), number(row.covered, 0) + " of " + number(row.discharges, 0),
               percent(row.mean_width), row.refitted_error ? percent(*row.refitted_error) : "", target(row)});
  }
  table.print(out);
}

nlohmann::json to_json(const RealCells& real_cells) {
  const auto& known = real_cells.row(100, 0.5, true, true);
  const auto& unknown = real_cells.row(100, 0.5, false, true);
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
  }
  return {{"half_life_error", {{"known", known.median_error}, {"unknown", unknown.median_error}}},
          {"half_life_covered90",
           {{"known", known.covered}, {"unknown", unknown.covered}, {"discharges", known.discharges}}},
          {"half_life_width90", {{"known", known.mean_width}, {"unknown", unknown.mean_width}}},
          {"rows", rows}};
}

}  // namespace cellarer::bench
