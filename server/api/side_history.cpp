// SPDX-License-Identifier: MIT
#include "server/api/side_history.hpp"

#include <algorithm>
#include <cmath>

#include "model/review/comparisons.hpp"
#include "model/review/side_chart.hpp"
#include "server/api/side_checks.hpp"
#include "server/json/field.hpp"
#include "server/json/texts.hpp"
#include "server/service/finding_words.hpp"

namespace cellarer::api {

using cellarer::json::rfc3339;
using review::ChartPoint;
using review::SetRecord;
using service::more_or_less;
using service::percent_more;

namespace {

std::string to_four_digits(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.4g", value);
  return text;
}

std::string ended_text(life::ChangeReason reason) {
  switch (reason) {
    case life::ChangeReason::planned:
      return "changed as planned";
    case life::ChangeReason::warning:
      return "changed after a warning";
    case life::ChangeReason::ran_out:
      return "ran out";
    case life::ChangeReason::fault:
      return "changed because of a fault";
    case life::ChangeReason::unknown:
      break;
  }
  return "not known why changed";
}

nlohmann::json settings_figures(const duty::Settings& settings, Zone zone) {
  return {{"rate_per_min", settings.rate_per_min},
          {"inspiratory_fraction", settings.inspiratory_fraction},
          {"amplitude", settings.amplitude},
          {"hours_per_day", std::round(10 * service::hours_per_day(settings, zone)) / 10}};
}

std::string settings_words(const duty::Settings& settings, Zone zone) {
  return to_four_digits(settings.rate_per_min) + " breaths a minute, fraction " +
         to_four_digits(settings.inspiratory_fraction) + ", amplitude " + to_four_digits(settings.amplitude) + ", " +
         to_four_digits(service::hours_per_day(settings, zone)) + " h a day";
}

/// Settings that came into force while the set was in, each where it happened.
nlohmann::json changes_of(const SetRecord& record, Zone zone) {
  auto changes = nlohmann::json::array();
  for (const auto& change : record.changes)
    changes.push_back({{"at", rfc3339(change.to.from, zone)},
                       {"settings", settings_figures(change.to, zone)},
                       {"settings_text", settings_words(change.to, zone)},
                       {"charge_before_percent", std::round(100 * change.share_before)}});
  return changes;
}

nlohmann::json observed_of(const SetRecord& record, const review::Spreads& spreads) {
  if (!record.observed) return nullptr;
  nlohmann::json document;
  add_range(document, record.observed->log_ratio,
            std::max(record.observed->standard_error, spreads.observation_at_least));
  document["depth_percent"] = std::round(100 * record.observed->depth);
  document["readings"] = record.observed->readings;
  return document;
}

nlohmann::json chart_of(const ChartPoint& point) {
  return {{"expected_percent", percent_more(point.expected)},
          {"expected_low_percent", percent_more(point.expected - 1.96 * point.expected_sd)},
          {"expected_high_percent", percent_more(point.expected + 1.96 * point.expected_sd)},
          {"surprise", point.surprise},
          {"ewma",
           {{"value", point.ewma.value},
            {"lower", point.ewma.lower},
            {"upper", point.ewma.upper},
            {"signal", point.ewma.signal}}},
          {"cusum",
           {{"high", point.cusum.high},
            {"low", point.cusum.low},
            {"limit", review::CusumDesign{}.h},
            {"signal", point.cusum.signal}}}};
}

nlohmann::json marks_of(const review::Marks& marks) {
  auto names = nlohmann::json::array();
  if (marks.settings) names.push_back("settings");
  if (marks.unit) names.push_back("unit");
  if (marks.lot) names.push_back("lot");
  if (marks.cell_type) names.push_back("cell_type");
  return names;
}

std::string set_text(const SetRecord& record, int number) {
  const std::string use =
      record.observed ? "used " + more_or_less(record.observed->log_ratio) : "nothing read that says how much it used";
  return "Set " + std::to_string(number) + ": " + use + ", " + ended_text(record.ended) + "." +
         (record.changes.empty() ? "" : " Its settings changed while it was in.");
}

/// The side's sets in order, each with its point on the chart, where it has one.
struct ChartedSet {
  const SetRecord* record;
  const ChartPoint* point;
};

std::vector<ChartedSet> charted(const review::HouseholdHistory& history, const std::vector<ChartPoint>& points,
                                Side side) {
  std::vector<ChartedSet> sets;
  for (std::size_t i = 0; i < history.records.size(); ++i) {
    if (history.records[i].side != side) continue;
    sets.push_back({&history.records[i], nullptr});
    for (const auto& point : points) {
      if (point.record == i) sets.back().point = &point;
    }
  }
  return sets;
}

nlohmann::json charts_document() {
  const review::EwmaDesign ewma;
  const review::CusumDesign cusum;
  return {{"ewma",
           {{"weight", ewma.weight},
            {"width", ewma.width},
            {"text", "EWMA of the surprise: some 500 sets between false signals."}}},
          {"cusum",
           {{"k", cusum.k}, {"h", cusum.h}, {"text", "CUSUM of the surprise: some 370 sets between false signals."}}}};
}

nlohmann::json difference_of(const review::Difference& difference, const char* first, const char* second) {
  nlohmann::json document{{first, difference.sets_a}, {second, difference.sets_b}};
  add_range(document, difference.more, difference.standard_error);
  return document;
}

std::string limits_text(const review::Difference& difference) {
  const double width = 1.96 * difference.standard_error;
  return " (95 %: " + to_four_digits(percent_more(difference.more - width)) + " to " +
         to_four_digits(percent_more(difference.more + width)) + " %).";
}

nlohmann::json left_against_right(const review::HouseholdHistory& history, const review::Spreads& spreads) {
  const auto found = review::left_over_right(history, spreads);
  if (!found) return nullptr;
  auto document = difference_of(*found, "sets_left", "sets_right");
  document["text"] =
      "Left against right, each against its own expectation: " + more_or_less(found->more) + limits_text(*found);
  return document;
}

std::string left_out_text(int sets) {
  if (sets == 0) return "";
  return sets == 1 ? " One set drew by both settings and is left out."
                   : ' ' + std::to_string(sets) + " sets drew by both settings and are left out.";
}

nlohmann::json settings_changes(const review::HouseholdHistory& history, Side side, const review::Spreads& spreads,
                                Zone zone) {
  auto changes = nlohmann::json::array();
  for (const auto& change : review::after_settings_changes(history, spreads)) {
    if (change.side != side) continue;
    auto document = difference_of(change, "sets_after", "sets_before");
    document["sets_between"] = change.sets_between;
    document["at"] = rfc3339(change.at, zone);
    document["text"] = "After the settings changed, against before: " + more_or_less(change.more) +
                       limits_text(change) + " Where the record holds the new settings it should be nought." +
                       left_out_text(change.sets_between);
    changes.push_back(std::move(document));
  }
  return changes;
}

}  // namespace

const char* name_of(life::ChangeReason reason) {
  static const char* names[] = {"planned", "warning", "ran_out", "fault", "unknown"};
  return names[static_cast<int>(reason)];
}

void add_range(nlohmann::json& document, double log_ratio, double standard_error) {
  const double width = 1.96 * standard_error;
  document["more_percent"] = percent_more(log_ratio);
  document["low_percent"] = percent_more(log_ratio - width);
  document["high_percent"] = percent_more(log_ratio + width);
}

void add_no_range(nlohmann::json& document) {
  for (const char* name : {"more_percent", "low_percent", "high_percent"}) document[name] = nullptr;
}

nlohmann::json side_history(const service::ReviewedHome& home, const review::HouseholdHistory& history, Side side,
                            const review::Spreads& spreads, Instant as_of) {
  const auto points = review::side_chart(history, side, spreads);
  auto sets = nlohmann::json::array();
  int number = 0;
  const SetRecord* before = nullptr;
  for (const auto& [record, point] : charted(history, points, side)) {
    ++number;
    const auto* settings = record->settings ? &*record->settings : nullptr;
    nlohmann::json set{
        {"number", number},
        {"from", rfc3339(record->from, home.zone)},
        {"to", rfc3339(record->to, home.zone)},
        {"unit", json::text_or_null(record->unit)},
        {"stimulator", json::text_or_null(record->stimulator)},
        {"cell_type", json::text_or_null(record->cell_type)},
        {"lot", json::text_or_null(record->lot)},
        {"ended", name_of(record->ended)},
        {"ended_text", ended_text(record->ended)},
        {"settings", settings != nullptr ? settings_figures(*settings, home.zone) : nlohmann::json()},
        {"settings_text", settings != nullptr ? settings_words(*settings, home.zone) : "settings not known"},
        {"settings_changed", changes_of(*record, home.zone)},
        {"expected_mAh", record->expected_mAh},
        {"expected_mA", record->to > record->from ? nlohmann::json(record->expected_mA()) : nlohmann::json()},
        {"observed", observed_of(*record, spreads)},
        {"chart", point != nullptr ? chart_of(*point) : nlohmann::json()},
        {"marks", before != nullptr ? marks_of(review::marks_between(*before, *record)) : nlohmann::json::array()}};
    set["text"] = set_text(*record, number);
    before = record;
    sets.push_back(std::move(set));
  }
  return {{"household", home.reference},
          {"side", cellarer::name_of(side)},
          {"zone", home.zone != nullptr ? home.zone->name() : "UTC"},
          {"as_of", rfc3339(as_of, home.zone)},
          {"sets", std::move(sets)},
          {"charts", charts_document()},
          {"left_against_right", left_against_right(history, spreads)},
          {"settings_changes", settings_changes(history, side, spreads, home.zone)},
          {"checks", checks_of(home, history, side)}};
}

}  // namespace cellarer::api
