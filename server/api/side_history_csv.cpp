// SPDX-License-Identifier: MIT
// The history of a side as a table for a spreadsheet.
#include <algorithm>
#include <cmath>

#include "model/review/side_chart.hpp"
#include "server/api/side_history.hpp"
#include "server/json/field.hpp"

namespace cellarer::api {

namespace {

constexpr const char* head =
    "number,from,to,unit,stimulator,cell_type,lot,ended,rate_per_min,inspiratory_fraction,amplitude,hours_per_day,"
    "expected_mAh,use_ratio,use_ratio_low,use_ratio_high,depth_percent,readings,expected_ratio,surprise_sd,ewma,"
    "ewma_lower,ewma_upper,cusum_high,cusum_low,changed,settings_changed_at\r\n";

std::string to_six_digits(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.6g", value);
  return text;
}

std::string marks_text(const review::Marks& marks) {
  std::string text;
  const auto add = [&](bool holds, const char* word) {
    if (holds) text += (text.empty() ? "" : " ") + std::string(word);
  };
  add(marks.settings, "settings");
  add(marks.unit, "unit");
  add(marks.lot, "lot");
  add(marks.cell_type, "cell_type");
  return text;
}

/// When its settings changed while it was in, by RFC 3339, parted by blanks.
std::string changes_text(const review::SetRecord& record, Zone zone) {
  std::string text;
  for (const auto& change : record.changes)
    text += (text.empty() ? "" : " ") + cellarer::json::rfc3339(change.to.from, zone);
  return text;
}

std::string settings_cells(const review::SetRecord& record, Zone zone) {
  if (!record.settings) return ",,,";
  const auto& settings = *record.settings;
  return to_six_digits(settings.rate_per_min) + ',' + to_six_digits(settings.inspiratory_fraction) + ',' +
         to_six_digits(settings.amplitude) + ',' + to_six_digits(service::hours_per_day(settings, zone));
}

std::string observed_cells(const review::SetRecord& record, const review::Spreads& spreads) {
  if (!record.observed) return ",,,,";
  const auto& seen = *record.observed;
  const double width = 1.96 * std::max(seen.standard_error, spreads.observation_at_least);
  return to_six_digits(std::exp(seen.log_ratio)) + ',' + to_six_digits(std::exp(seen.log_ratio - width)) + ',' +
         to_six_digits(std::exp(seen.log_ratio + width)) + ',' + to_six_digits(100 * seen.depth) + ',' +
         std::to_string(seen.readings);
}

std::string chart_cells(const review::ChartPoint* point) {
  if (point == nullptr) return ",,,,,,";
  return to_six_digits(std::exp(point->expected)) + ',' + to_six_digits(point->surprise) + ',' +
         to_six_digits(point->ewma.value) + ',' + to_six_digits(point->ewma.lower) + ',' +
         to_six_digits(point->ewma.upper) + ',' + to_six_digits(point->cusum.high) + ',' +
         to_six_digits(point->cusum.low);
}

}  // namespace

std::string csv_text(const std::string& text) {
  std::string cell = text;
  if (!cell.empty() && std::string("=+-@\t\r").find(cell.front()) != std::string::npos) cell.insert(0, 1, '\'');
  if (cell.find_first_of(",\"\r\n") == std::string::npos) return cell;
  std::string quoted = "\"";
  for (const char c : cell) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
  return quoted + '"';
}

std::string side_history_csv(const service::ReviewedHome& home, const review::HouseholdHistory& history, Side side,
                             const review::Spreads& spreads) {
  const auto points = review::side_chart(history, side, spreads);
  std::string table = head;
  int row = 0;
  const review::SetRecord* before = nullptr;
  for (std::size_t i = 0; i < history.records.size(); ++i) {
    const auto& record = history.records[i];
    if (record.side != side) continue;
    const review::ChartPoint* point = nullptr;
    for (const auto& one : points) {
      if (one.record == i) point = &one;
    }
    table += std::to_string(++row) + ',' + cellarer::json::rfc3339(record.from, home.zone) + ',' +
             cellarer::json::rfc3339(record.to, home.zone) + ',';
    for (const auto* text : {&record.unit, &record.stimulator, &record.cell_type, &record.lot})
      table += csv_text(*text) + ',';
    table += std::string(name_of(record.ended)) + ',' + settings_cells(record, home.zone) + ',' +
             to_six_digits(record.expected_mAh) + ',' + observed_cells(record, spreads) + ',' + chart_cells(point) +
             ',' + csv_text(before != nullptr ? marks_text(review::marks_between(*before, record)) : "") + ',' +
             changes_text(record, home.zone) + "\r\n";
    before = &record;
  }
  return table;
}

}  // namespace cellarer::api
