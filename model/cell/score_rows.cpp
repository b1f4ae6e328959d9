// SPDX-License-Identifier: MIT
#include "model/cell/score_rows.hpp"

#include <cmath>
#include <map>
#include <utility>

namespace cellarer::cell {

int centivolts(double cutoff_V) { return static_cast<int>(std::lround(100 * cutoff_V)); }

bool is_current(const Discharge& row, double current_mA) {
  return row.load.kind == LoadKind::current && row.load.value == current_mA && !row.regimen;
}

std::vector<ScoredRow> scored_rows(const PublishedCell& cell) {
  std::vector<ScoredRow> rows;
  std::map<std::pair<double, int>, std::vector<std::size_t>> places;
  for (std::size_t i = 0; i < cell.discharges.size(); ++i) {
    const Discharge& row = cell.discharges[i];
    const int cutoff = centivolts(row.cutoff_V);
    const bool scored = (is_current(row, 100) && cutoff <= 120) || (is_current(row, 500) && cutoff <= 100);
    if (scored && row.hours) places[{row.load.value, cutoff}].push_back(i);
  }
  for (const auto& [key, group] : places) {
    double sum = 0;
    for (const std::size_t place : group) sum += *cell.discharges[place].hours;
    rows.push_back({key.first, key.second, sum / static_cast<double>(group.size()), group.front()});
  }
  return rows;
}

double relative_error(const FitSummary& summary, const ScoredRow& row) {
  return summary.points[row.place].fitted / row.hours - 1;
}

bool has_both_loads(const PublishedCell& cell) {
  if (cell.designation != "LR6" || cell.family) return false;
  bool at_100 = false, at_500 = false;
  for (const Discharge& row : cell.discharges) {
    if (row.specimen.empty()) continue;
    at_100 = at_100 || is_current(row, 100);
    at_500 = at_500 || is_current(row, 500);
  }
  return at_100 && at_500;
}

}  // namespace cellarer::cell
