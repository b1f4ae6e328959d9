// SPDX-License-Identifier: MIT
#include "model/review/side_chart.hpp"

namespace cellarer::review {

namespace {

Marks marks_between(const SetRecord& before, const SetRecord& after) {
  const bool settings = before.settings && after.settings && before.settings->from != after.settings->from;
  return {settings, before.unit != after.unit, before.lot != after.lot, before.cell_type != after.cell_type};
}

}  // namespace

std::vector<ChartPoint> side_chart(const HouseholdHistory& history, Side side, const Spreads& spreads) {
  const auto rows = rows_of(history.records, history.checks, spreads);
  std::vector<ChartPoint> points;
  if (rows.empty()) return points;
  const Whitened whitened(rows, spreads, history.settled);
  std::vector<double> surprises;
  const SetRecord* before = nullptr;
  for (Eigen::Index i = 0; i < whitened.size(); ++i) {
    const auto& row = rows[static_cast<std::size_t>(i)];
    if (row.check || row.side != side) continue;
    ChartPoint point;
    point.record = row.record;
    point.at = row.at;
    point.log_ratio = row.value;
    point.expected = whitened.expected(i);
    point.expected_sd = whitened.sd(i);
    point.surprise = whitened.surprise()[i];
    const auto& record = history.records[row.record];
    if (before != nullptr) point.marks = marks_between(*before, record);
    before = &record;
    surprises.push_back(point.surprise);
    points.push_back(point);
  }
  const auto averages = ewma(surprises, {});
  const auto sums = cusum(surprises, {});
  for (std::size_t i = 0; i < points.size(); ++i) {
    points[i].ewma = averages[i];
    points[i].cusum = sums[i];
  }
  return points;
}

}  // namespace cellarer::review
