// SPDX-License-Identifier: MIT
#include "server/api/household_page.hpp"

#include <set>

#include "model/life/stint.hpp"
#include "server/api/help_document.hpp"
#include "server/api/household_document.hpp"
#include "server/api/plan_document.hpp"
#include "server/api/profile_documents.hpp"
#include "server/json/field.hpp"
#include "server/service/facts.hpp"
#include "server/service/household_forecast.hpp"

namespace cellarer::api {

using cellarer::json::rfc3339;
using service::HouseholdRecord;

namespace {

nlohmann::json units_document(const HouseholdRecord& record, const service::Libraries& libraries) {
  auto units = nlohmann::json::array();
  for (const auto& unit : record.units) {
    nlohmann::json document = unit_document(unit, record.life.zone);
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
nlohmann::json current_settings(const HouseholdRecord& record, Instant now) {
  nlohmann::json settings{{"left", nullptr}, {"right", nullptr}};
  for (const auto& one : record.life.settings) {  // by time: the last that has begun is in force
    if (one.from <= now) settings[name_of(one.side)] = settings_document(one, record.life.zone);
  }
  return settings;
}

/// The cells that each side was recorded to have, by side, in hospital too; null where nobody recorded any.
nlohmann::json current_cells(const HouseholdRecord& record, Instant now) {
  nlohmann::json cells{{"left", nullptr}, {"right", nullptr}};
  for (const auto side : both_sides) {
    const auto stints = life::stints(record.life, side, now);
    if (stints.empty()) continue;
    const auto& in = stints.back().in;
    const bool recorded = in.cells.profile || in.cells.lot || in.cells.age == life::CellAge::fresh;
    if (!recorded) continue;
    auto& document = cells[name_of(side)];
    document["profile"] = in.cells.profile ? nlohmann::json(*in.cells.profile) : nlohmann::json();
    document["lot"] = in.cells.lot ? nlohmann::json(*in.cells.lot) : nlohmann::json();
    document["since"] = rfc3339(in.at, record.life.zone);
  }
  return cells;
}

std::string stimulator_in_use(const HouseholdRecord& record, Instant now) {
  std::string found;
  for (const auto& unit : record.units) {
    if (!unit.spare && unit.from <= now) found = unit.stimulator;
  }
  return found;
}

}  // namespace

nlohmann::json cell_profiles_document(const service::Libraries& libraries) {
  auto profiles = nlohmann::json::array();
  for (const auto& id : libraries.cell_ids()) {
    const auto profile = libraries.cell(id);
    if (!profile) continue;
    profiles.push_back({{"id", id}, {"designation", profile->designation}, {"usable", profile->usable}});
  }
  return profiles;
}

nlohmann::json household_page(const HouseholdRecord& record, const service::Libraries& libraries, Instant now) {
  const auto stock = service::stock_at(record, now);
  std::set<std::string> items;
  std::set<std::string> places{service::usual_place};
  for (const auto& terms : record.items) items.insert(terms.item);
  auto lots = nlohmann::json::array();
  for (const auto& line : stock.lines) {
    items.insert(line.item);
    places.insert(line.place);
    if (line.quantity == 0) continue;
    lots.push_back(stock_line_document(line));
    if (service::is_recalled(record, line, now)) lots.back()["recalled"] = true;
  }
  nlohmann::json page = household_head(record);
  page["units"] = units_document(record, libraries);
  page["settings"] = current_settings(record, now);
  page["cells"] = current_cells(record, now);
  page["in_hospital"] = nlohmann::json::parse(in_hospital_document(record, now).dump());
  page["stays"] = nlohmann::json::array();
  for (const auto& stay : record.stays) page["stays"].push_back(stay_document(stay, record.life.zone));
  page["cell_profiles"] = cell_profiles_document(libraries);
  page["items"] = items;
  page["places"] = places;
  page["lots"] = std::move(lots);
  page["please_count"] = stock.please_count;
  page["handling"] = handling_document(libraries, stimulator_in_use(record, now));
  page["as_of"] = rfc3339(now, record.life.zone);
  return page;
}

nlohmann::json household_page(const Context& context, const std::string& agency, const service::Snapshot& snapshot) {
  auto page = household_page(snapshot.record, *context.households.profiles().libraries_of(agency),
                             context.households.clock().now());
  page["last_entry"] = snapshot.last_entry;
  page["help"] = help_for_household(service::help_of(*context.households.journal().of(agency)));
  return page;
}

}  // namespace cellarer::api
