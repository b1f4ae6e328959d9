// SPDX-License-Identifier: MIT
#include "server/api/household_page.hpp"

#include <set>

#include "model/stock/ledger.hpp"
#include "server/api/household_document.hpp"
#include "server/api/plan_document.hpp"
#include "server/json/field.hpp"
#include "server/service/facts.hpp"

namespace cellarer::api {

using cellarer::json::rfc3339;
using nlohmann::json;
using service::HouseholdRecord;

namespace {

json units_document(const HouseholdRecord& record, const service::Libraries& libraries) {
  auto units = json::array();
  for (const auto& unit : record.units) {
    json document = unit_document(unit, record.life.zone);
    if (const auto stimulator = libraries.stimulator(unit.stimulator)) {
      document["cells_in_series"] = stimulator->cells_in_series;
      document["gauge"] = {{"steps", nullptr}};
      if (stimulator->gauge.steps) document["gauge"]["steps"] = *stimulator->gauge.steps;
    }
    units.push_back(std::move(document));
  }
  return units;
}

/// The settings in force, by side; null where there are none yet.
json current_settings(const HouseholdRecord& record, Instant now) {
  json settings{{"left", nullptr}, {"right", nullptr}};
  for (const auto& one : record.life.settings) {  // by time: the last that has begun is in force
    if (one.from <= now) settings[name_of(one.side)] = settings_document(one, record.life.zone);
  }
  return settings;
}

}  // namespace

json cell_profiles_document(const service::Libraries& libraries) {
  auto profiles = json::array();
  for (const auto& id : libraries.cell_ids()) {
    const auto profile = libraries.cell(id);
    if (!profile) continue;
    profiles.push_back({{"id", id}, {"designation", profile->designation}, {"usable", profile->usable}});
  }
  return profiles;
}

json household_page(const HouseholdRecord& record, const service::Libraries& libraries, Instant now) {
  const auto stock = stock::stock_after(record.stock, now, {service::cells_in_series_at(record, now)});
  std::set<std::string> items;
  std::set<std::string> places{service::usual_place};
  for (const auto& terms : record.items) items.insert(terms.item);
  auto lots = json::array();
  for (const auto& line : stock.lines) {
    items.insert(line.item);
    places.insert(line.place);
    if (line.quantity > 0) lots.push_back(stock_line_document(line));
  }
  json page = household_head(record);
  page["units"] = units_document(record, libraries);
  page["settings"] = current_settings(record, now);
  page["in_hospital"] = json::parse(in_hospital_document(record, now).dump());
  page["stays"] = json::array();
  for (const auto& stay : record.stays) page["stays"].push_back(stay_document(stay, record.life.zone));
  page["cell_profiles"] = cell_profiles_document(libraries);
  page["items"] = items;
  page["places"] = places;
  page["lots"] = std::move(lots);
  page["please_count"] = stock.please_count;
  page["as_of"] = rfc3339(now, record.life.zone);
  return page;
}

}  // namespace cellarer::api
