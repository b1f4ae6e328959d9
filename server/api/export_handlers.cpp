// SPDX-License-Identifier: MIT
// Tables of the whole agency, for other programs and for moving out.
#include "server/api/csv_response.hpp"
#include "server/api/left_out.hpp"
#include "server/api/sentences.hpp"
#include "server/api/table_handlers.hpp"
#include "server/household_key.hpp"
#include "server/json/field.hpp"
#include "server/json/texts.hpp"
#include "server/service/household_forecast.hpp"
#include "server/service/import.hpp"

namespace cellarer::api {

using service::HouseholdRecord;
using service::TableKind;

namespace {

using Cells = std::vector<std::string>;

struct Table {
  std::vector<std::string> columns;
  std::vector<Cells> rows;
};

std::string number(double value) {
  auto text = nlohmann::json(value).dump();
  if (text.ends_with(".0")) text.resize(text.size() - 2);
  return text;
}
std::string number(const std::optional<double>& value) { return value ? number(*value) : ""; }

void add_household(Table& table, const HouseholdRecord& record) {
  std::string times;
  for (const auto time : record.life.changing_times) times += (times.empty() ? "" : ";") + json::clock_text(time);
  table.rows.push_back({record.reference, record.area.value_or(""), record.zone_name, times, record.stop.value_or("")});
}

void add_items(Table& table, const HouseholdRecord& record) {
  for (const auto& terms : record.items) {
    table.rows.push_back({record.reference, terms.item, std::to_string(terms.pack_size), number(terms.lead_days),
                          number(terms.every_days), number(terms.per_cell_change)});
  }
}

void add_counts(Table& table, const HouseholdRecord& record, Instant now) {
  for (const auto& line : service::stock_at(record, now).lines) {
    table.rows.push_back({record.reference, line.item, line.lot.value_or(""), std::to_string(line.quantity), "pieces",
                          json::month_text(line.expires), line.place, cellarer::json::rfc3339(now, record.life.zone)});
  }
}

std::string text_of(const nlohmann::json& value) {
  if (value.is_null()) return "";
  return value.is_string() ? value.get<std::string>() : value.dump();
}

void add_forecast(Table& table, const std::string& area, const nlohmann::json& forecast) {
  nlohmann::json cells = nlohmann::json::object();
  for (const auto& item : forecast["stock"]) {
    if (item["item"] == "cells") cells = item;
  }
  const auto of_cells = [&](const char* name) { return cells.contains(name) ? text_of(cells[name]) : ""; };
  const std::string days = cells.contains("days") && cells["days"].is_object() ? text_of(cells["days"]["p05"]) : "";
  for (const char* side : {"left", "right"}) {
    const auto& one = forecast["sides"][side];
    const auto if_any = [&](const char* name) { return one.contains(name) ? text_of(one[name]) : ""; };
    table.rows.push_back({text_of(forecast["household"]), area, side, text_of(one["phrase"]), text_of(one["change_by"]),
                          text_of(one["last_recorded_at"]), of_cells("usable"), days, of_cells("order_by"),
                          of_cells("order_quantity"), text_of(forecast["as_of"]), if_any("warned_at"),
                          if_any("stopped_at"), disclaimer});
  }
}

/// The table of that name; none where there is no such.
std::optional<Table> table_of(const Context& context, const std::string& agency, const std::string& name) {
  Table table;
  const bool forecast = name == "forecast";
  const bool homes = name == "households", items = name == "items", counts = name == "counts";
  if (!forecast && !homes && !items && !counts) return std::nullopt;
  if (forecast) {
    table.columns = {"household",    "area",     "side",     "phrase",         "change_by", "last_recorded_at",
                     "cells_usable", "days_p05", "order_by", "order_quantity", "as_of",     "warned_at",
                     "stopped_at",   "caution"};
  } else {
    table.columns = service::columns_of(homes ? TableKind::households : items ? TableKind::items : TableKind::counts);
  }
  const Instant now = context.households.clock().now();
  context.households.for_each_of(agency, [&](const std::string& household) {
    const auto snapshot = context.households.snapshot(household);
    if (homes) add_household(table, snapshot->record);
    if (items) add_items(table, snapshot->record);
    if (counts) add_counts(table, snapshot->record, now);
    if (forecast)
      add_forecast(table, snapshot->record.area.value_or(""),
                   nlohmann::json::parse(*context.forecasts.get(household)->forecast));
  });
  return table;
}

}  // namespace

Response get_export_table(const Context& context, const Request& request, const Parts& parts) {
  const auto& file = parts.at("table");
  const auto point = file.find('.');
  const auto name = file.substr(0, point), form = point == std::string::npos ? "" : file.substr(point + 1);
  const bool known_form = form == "csv" || form == "json";
  const auto table = known_form ? table_of(context, request.principal->agency, name) : std::nullopt;
  if (!table) {
    throw Problem(ProblemCode::not_found,
                  "There is no such table: households, items, counts and forecast, each as .csv or .json.");
  }
  if (form == "csv") {
    csv::Writer text(table->columns);
    for (const auto& row : table->rows) text.line(row);
    return with_left_out(context, request, csv_response(text, file));
  }
  auto rows = nlohmann::json::array();
  for (const auto& row : table->rows) {
    nlohmann::json one = nlohmann::json::object();
    for (std::size_t i = 0; i < row.size(); ++i)
      one[table->columns[i]] = row[i].empty() ? nlohmann::json() : nlohmann::json(row[i]);
    rows.push_back(std::move(one));
  }
  return json_response({{"as_of", cellarer::json::rfc3339(context.households.clock().now(), nullptr)},
                        {"rows", rows},
                        {"left_out", left_out(context, request)}});
}

}  // namespace cellarer::api
