// SPDX-License-Identifier: MIT
#include "model/review/side_chart.hpp"

namespace cellarer::review {

Marks marks_between(const SetRecord& before, const SetRecord& set) {
  const auto* was = before.settings_at_end();
  const bool settings = was != nullptr && set.settings && was->from != set.settings->from;
  return {settings, before.unit != set.unit, before.lot != set.lot, before.cell_type != set.cell_type};
}

std::vector<ChartPoint> side_chart(const HouseholdHistory& history, Side side, const Spreads& spreads) {
  const auto rows = rows_of(history.records, history.checks, spreads);
  std::vector<ChartPoint> points;
  if (rows.empty()) return points;
  const Whitened whitened(rows, spreads, history.settled);
  std::vector<double> surprises;
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
