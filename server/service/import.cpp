// SPDX-License-Identifier: MIT
// Checking tables.
#include "server/service/import.hpp"

#include <algorithm>
#include <tuple>

#include "server/household_key.hpp"
#include "server/service/facts.hpp"
#include "server/service/import_cells.hpp"
#include "server/service/lots.hpp"

namespace cellarer::service {

using json::Field;
using Json = nlohmann::json;

namespace {

Json times_of(const std::string& cell) {
  Json times = Json::array();
  for (std::size_t at = 0; at <= cell.size();) {
    const auto end = std::min(cell.find(';', at), cell.size());
    auto time = cell.substr(at, end - at);
    time.erase(0, time.find_first_not_of(' '));
    time.erase(time.find_last_not_of(' ') + 1);
    times.push_back(time);
    at = end + 1;
  }
  return times;
}

/// A day without a time is its noon there.
std::optional<Instant> day_at_noon(const std::string& text, Zone zone) {
  if (text.size() != 10) return std::nullopt;
  const auto at = json::parse_rfc3339(text + "T12:00:00Z");
  if (!at) return std::nullopt;
  const date::local_seconds local{at->time_since_epoch()};
  return std::chrono::floor<std::chrono::seconds>(zone->to_sys(local, date::choose::earliest));
}

class Checking {
 public:
  Checking(HouseholdService& households, std::string agency)
      : households_(households), agency_(std::move(agency)), now_(households.clock().now()) {}

  void take(const std::vector<TableFile>& files, TableKind kind) {
    for (const TableFile& file : files) {
      if (file.kind != kind) continue;
      ImportTable table(file, checked_.problems);
      for (const csv::Row& row : table.table().rows) {
        if (kind == TableKind::households) take_household(table, row);
        if (kind == TableKind::items) take_item(table, row);
        if (kind == TableKind::counts) take_count(table, row);
      }
    }
  }

  Checked finish(const std::vector<TableFile>& files) {
    for (auto& [reference, home] : fresh_) {
      if (!home.items.empty()) home.document["items"] = home.items;
      checked_.batch.households.push_back({household_key(agency_, reference), home.document.dump(), "", now_});
    }
    const auto place = [&](const ImportProblem& one) {
      const auto file = std::find_if(files.begin(), files.end(), [&](const auto& it) { return it.name == one.file; });
      return std::tuple(file - files.begin(), one.line, one.column);
    };
    std::stable_sort(checked_.problems.begin(), checked_.problems.end(),
                     [&](const auto& a, const auto& b) { return place(a) < place(b); });
    return std::move(checked_);
  }

 private:
  struct Fresh {
    Json document, items = Json::array();
    Zone zone = nullptr;
  };

  void take_household(ImportTable& table, const csv::Row& row) {
    Json document{{"household", "h"}, {"zone", "UTC"}, {"changing_times", {"12:00"}}};
    const auto check = [&](const char* column, const char* code, const Json& value) {
      Json alone = document;
      alone[column] = value;
      if (table.reads(row, column, code, [&] { read_household_fact(Field(alone, "")); })) document[column] = value;
    };
    const auto reference = table.cell(row, "household");
    if (table.filled(row, "household")) {
      check("household", "out-of-range", reference);
      table.refuse_twice(row, reference, "household", "This household");
      if (exists(reference)) table.problem(row, "household", "household-exists", "This household is there already.");
    }
    if (table.filled(row, "zone")) check("zone", "unknown-zone", table.cell(row, "zone"));
    if (table.filled(row, "changing_times"))
      check("changing_times", "bad-time", times_of(table.cell(row, "changing_times")));
    if (const auto area = table.cell(row, "area"); !area.empty())
      check("area", "out-of-range", area);
    else
      table.problem(row, "area", "missing-area", "Without an area this home is on no round.", true);
    if (const auto stop = table.cell(row, "stop"); !stop.empty()) {
      check("stop", "out-of-range", stop);
      check_door(table, row, stop);
    }
    if (table.row_has_errors(row)) return;
    Fresh& fresh = fresh_[reference];
    fresh.zone = read_zone(Field(document["zone"], ""));
    fresh.document = std::move(document);
    ++checked_.households;
  }

  /// A door that is in one area for one household and in another for the next is on no round for the second.
  void check_door(ImportTable& table, const csv::Row& row, const std::string& stop) {
    const auto area = table.cell(row, "area");
    if (area.empty()) return;
    const auto [there, first] = doors().emplace(stop, area);
    if (first || there->second == area) return;
    table.problem(row, "stop", "two-areas",
                  "This stop is in the area " + there->second + " for another household: one stop has one area.");
  }

  /// The area of each door that open households have.
  std::map<std::string, std::string>& doors() {
    if (doors_) return *doors_;
    doors_.emplace();
    households_.for_each_of(agency_, [&](const std::string& household) {
      const auto snapshot = households_.snapshot(household);
      const HouseholdRecord& record = snapshot->record;
      if (record.area && !record.closed_since) doors_->emplace(record.stop.value_or(record.reference), *record.area);
    });
    return *doors_;
  }

  void take_item(ImportTable& table, const csv::Row& row) {
    Json terms{{"item", "cells"}};
    const auto number = [&](const char* column, bool whole) {
      if (table.cell(row, column).empty()) return;
      const auto value = table.number(row, column, whole);
      if (!value) return;
      terms[column] = *value;
      Json alone{{"item", "cells"}, {column, *value}};
      table.reads(row, column, "out-of-range", [&] { read_item_terms(Field(alone, "")); });
    };
    const bool home = require_home(table, row);
    if (table.filled(row, "item")) {
      terms["item"] = table.cell(row, "item");
      table.reads(row, "item", "out-of-range", [&] { read_item_terms(Field(terms, "")); });
    }
    number("pack_size", true);
    number("lead_days", false);
    number("every_days", false);
    number("per_cell_change", false);
    const auto reference = table.cell(row, "household");
    table.refuse_twice(row, reference + "\n" + table.cell(row, "item"), "item", "This item of this household");
    if (!home || table.row_has_errors(row)) return;
    ++checked_.items;
    if (const auto fresh = fresh_.find(reference); fresh != fresh_.end())
      fresh->second.items.push_back(terms);
    else
      add_entry(reference, kind::item_terms, now_, terms);
  }

  void take_count(ImportTable& table, const csv::Row& row) {
    Json count{{"at", json::rfc3339(now_, nullptr)}, {"item", "cells"}, {"quantity", 1}};
    const auto check = [&](const char* column, const char* code, const Json& value) {
      Json alone = count;
      alone[column] = value;
      if (table.reads(row, column, code, [&] { read_stock_event(Field(alone, ""), stock::Happened::counted); }))
        count[column] = value;
    };
    const bool home = require_home(table, row);
    if (table.filled(row, "item")) check("item", "out-of-range", table.cell(row, "item"));
    if (table.filled(row, "quantity")) {
      if (const auto pieces = table.number(row, "quantity", true)) check("quantity", "out-of-range", *pieces);
    }
    if (table.filled(row, "unit") && table.cell(row, "unit") != "pieces")
      table.problem(row, "unit", "wrong-unit",
                    "Counts are in pieces, never in packs: write the pieces, and pieces as the unit.");
    for (const char* column : {"lot", "expires", "place"}) {
      const auto cell = table.cell(row, column);
      const bool month = std::string_view(column) == "expires";
      if (!cell.empty()) check(column, month ? "bad-month" : "out-of-range", cell);
    }
    const auto at = home ? counted_at(table, row) : std::nullopt;
    const auto reference = table.cell(row, "household");
    table.refuse_twice(
        row,
        reference + "\n" + table.cell(row, "item") + "\n" + table.cell(row, "lot") + "\n" + table.cell(row, "place"),
        "lot", "A count of this item, lot and place of this household");
    if (const auto lot = table.cell(row, "lot"); !lot.empty()) ask_about(table, row, {table.cell(row, "item"), lot});
    if (!home || !at || table.row_has_errors(row)) return;
    count["at"] = json::rfc3339(*at, nullptr);
    add_entry(reference, kind::stock_count, *at, count);
    ++checked_.counts;
  }

  std::optional<Instant> counted_at(ImportTable& table, const csv::Row& row) {
    const auto text = table.cell(row, "counted_at");
    if (text.empty()) return now_;
    auto at = json::parse_rfc3339(text);
    if (!at) at = day_at_noon(text, zone_of(table.cell(row, "household")));
    if (!at)
      table.problem(row, "counted_at", "bad-date", "This is no time: write 2026-03-01, or 2026-03-01T18:00:00+01:00.");
    const bool fits = at && table.reads(row, "counted_at", "bad-date", [&] {
      const Json value = json::rfc3339(*at, nullptr);
      read_time(Field(value, ""));
    });
    if (!fits) return std::nullopt;
    const bool today = text.size() == 10 && *at < now_ + std::chrono::hours(24);
    if (*at <= now_ || today) return std::min(*at, now_);
    table.problem(row, "counted_at", "bad-date", "This lies in the future: a count has happened.");
    return std::nullopt;
  }

  void ask_about(ImportTable& table, const csv::Row& row, const LotName& written) {
    const auto facts = households_.lots_of_agency(agency_);
    const LotName lot{written.item, facts->right(written)};
    if (facts->recall_of(lot) != nullptr) {
      table.problem(row, "lot", "recalled-lot", "This lot is recalled: it is taken in, and not counted as usable.",
                    true);
      return;
    }
    if (!lots_read_) {
      for (const LotLine& line : all_lots(households_, agency_)) lots_.insert(line.lot);
      lots_read_ = true;
    }
    if (lots_.count(lot) > 0) return;
    table.problem(row, "lot", "unknown-lot", "Nobody here has recorded this lot before: is the number right?", true);
  }

  bool require_home(ImportTable& table, const csv::Row& row) {
    if (!table.filled(row, "household")) return false;
    const auto reference = table.cell(row, "household");
    if (fresh_.count(reference) > 0 || exists(reference)) return true;
    table.problem(row, "household", "unknown-household",
                  "There is no such household, and none of these tables makes it.");
    return false;
  }

  bool exists(const std::string& reference) {
    if (reference.find('/') != std::string::npos) return false;
    try {
      households_.last_entry(household_key(agency_, reference));
      return true;
    } catch (const Problem&) {
      return false;
    }
  }

  Zone zone_of(const std::string& reference) {
    const auto fresh = fresh_.find(reference);
    if (fresh != fresh_.end()) return fresh->second.zone;
    return households_.snapshot(household_key(agency_, reference))->record.life.zone;
  }

  void add_entry(const std::string& reference, const char* what, Instant at, const Json& body) {
    checked_.batch.entries.push_back({household_key(agency_, reference), what, at, now_, "", body.dump(), ""});
  }

  HouseholdService& households_;
  std::string agency_;
  Instant now_;
  Checked checked_;
  std::map<std::string, Fresh> fresh_;
  std::set<LotName> lots_;
  bool lots_read_ = false;
  std::optional<std::map<std::string, std::string>> doors_;
};

}  // namespace

bool Checked::can_apply(const std::set<std::string>& accepted) const {
  return std::all_of(problems.begin(), problems.end(),
                     [&](const ImportProblem& one) { return one.asked && accepted.count(one.code) > 0; });
}

const std::vector<std::string>& columns_of(TableKind kind) {
  static const std::vector<std::string> homes{"household", "area", "zone", "changing_times", "stop"};
  static const std::vector<std::string> items{"household", "item",       "pack_size",
                                              "lead_days", "every_days", "per_cell_change"};
  static const std::vector<std::string> counts{"household", "item",    "lot",   "quantity",
                                               "unit",      "expires", "place", "counted_at"};
  return kind == TableKind::households ? homes : kind == TableKind::items ? items : counts;
}

Checked check_import(HouseholdService& households, const std::string& agency, const std::vector<TableFile>& files) {
  Checking checking(households, agency);
  for (const auto kind : {TableKind::households, TableKind::items, TableKind::counts}) checking.take(files, kind);
  return checking.finish(files);
}

}  // namespace cellarer::service
