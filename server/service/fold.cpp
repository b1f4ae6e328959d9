// SPDX-License-Identifier: MIT
#include "server/service/fold.hpp"

#include <algorithm>

#include "server/service/plan_fold.hpp"

namespace cellarer::service {

using json::Field;
using store::StoredEntry;

namespace {

void add_fact(HouseholdRecord& record, const StoredEntry& entry, const Field& body) {
  const std::string& what = entry.kind;
  auto& life = record.life;
  if (what == kind::unit) record.units.push_back(read_unit(body));
  if (what == kind::settings) life.settings.push_back(read_settings(body));
  if (what == kind::reading) life.readings.push_back(read_reading(body, entry.recorded_at));
  if (what == kind::paced) life.paced_instead.push_back(read_paced_instead(body));
  if (what == kind::switched_off) life.switched_off.push_back(read_switched_off(body));
  if (what == kind::stay) record.stays.push_back(read_stay(body));
  if (what == kind::stock_count) record.stock.push_back(read_stock_event(body, stock::Happened::counted));
  if (what == kind::delivery) record.stock.push_back(read_stock_event(body, stock::Happened::received));
  if (what == kind::discard) record.stock.push_back(read_stock_event(body, stock::Happened::discarded));
}

void add_household(HouseholdRecord& record, const store::StoredHousehold& household) {
  const auto document = json::parse(household.document);
  const auto fact = read_household_fact(Field(document, ""));
  record.reference = fact.reference;
  record.area = fact.area;
  record.zone_name = fact.zone_name;
  record.life.zone = fact.zone;
  record.life.changing_times = fact.changing_times;
  record.items = fact.items;
  if (fact.policy) record.life.policy = *fact.policy;
}

template <class Entries, class Time>
void sort_by_time(Entries& entries, const Time& time) {
  std::stable_sort(entries.begin(), entries.end(), [&](const auto& a, const auto& b) { return time(a) < time(b); });
}

/// A zone by its name; a stay that was recorded with another name keeps the household's clock.
Zone zone_or_home(const std::optional<std::string>& name) {
  if (!name) return nullptr;
  try {
    return date::locate_zone(*name);
  } catch (const std::exception&) {
    return nullptr;
  }
}

/// Plans as the model reads them: one side each.
void complete_plans(HouseholdRecord& record) {
  auto& life = record.life;
  life.stays.clear();
  for (const Stay& stay : record.stays)
    life.stays.push_back({stay.from, stay.to, zone_or_home(stay.zone), stay.changing_times});
  life.paced_more.clear();
  for (const PacedMore& more : record.paced_more) {
    for (const Side side : more.sides)
      life.paced_more.push_back({side, more.from, more.to, more.hours_per_day, more.amplitude, more.still_at});
  }
  life.visits.clear();
  for (const Visit& visit : record.visits) {
    for (const Side side : visit.sides) life.visits.push_back({side, visit.at});
  }
  life.hospital.clear();
  for (const Hospital& hospital : record.hospital) life.hospital.push_back(hospital.stay);
}

}  // namespace

Folded fold(const store::StoredHousehold& household, const std::vector<StoredEntry>& entries,
            const Libraries& libraries) {
  Folded folded;
  HouseholdRecord& record = folded.record;
  add_household(record, household);
  const Said said = what_entries_say(entries);
  PlanFold plans(said);
  std::vector<NumberedChange> changes;
  for (const StoredEntry& entry : entries) {
    if (entry.voided_by) folded.voided_by[entry.number] = *entry.voided_by;
    const auto same = said.same.find(entry.number);
    const bool repeated = same != said.same.end() && entry.kind == kind::cell_change;
    if (repeated) folded.voided_by.emplace(entry.number, same->second);
    if (entry.voided_by || repeated) continue;
    const auto document = with_end(said, entry.number, json::parse(entry.body));
    const Field body(document, "");
    if (entry.kind == kind::cell_change) {
      changes.push_back(
          {read_cell_change(body, entry.recorded_at), entry.number, said.different.count(entry.number) > 0});
    } else {
      add_fact(record, entry, body);
      plans.add(record, entry, body);
    }
  }
  plans.finish(record, changes);
  complete(record, libraries);
  add_changes(record, std::move(changes));
  complete(record, libraries);
  return folded;
}

void complete(HouseholdRecord& record, const Libraries& libraries) {
  auto& life = record.life;
  sort_by_time(record.units, [](const UnitRecord& unit) { return unit.from; });
  sort_by_time(record.stock, [](const stock::Event& event) { return event.at; });
  sort_by_time(record.stays, [](const Stay& stay) { return stay.from; });
  sort_by_time(record.paced_more, [](const PacedMore& more) { return more.from; });
  sort_by_time(record.visits, [](const Visit& visit) { return visit.at; });
  sort_by_time(record.hospital, [](const Hospital& hospital) { return hospital.stay.from; });
  complete_plans(record);
  sort_by_time(life.settings, [](const duty::Settings& settings) { return settings.from; });
  sort_by_time(life.readings, [](const life::Reading& reading) { return reading.at; });
  sort_by_time(life.cell_changes, [](const life::CellChange& change) { return change.at; });
  life.units.clear();
  for (const UnitRecord& unit : record.units) {
    const auto stimulator = libraries.stimulator(unit.stimulator);
    if (!unit.spare && stimulator) life.units.push_back({unit.serial, *stimulator, unit.from});
  }
  for (const life::CellChange& change : life.cell_changes) {
    if (!change.cells.profile || life.cell_profiles.count(*change.cells.profile) > 0) continue;
    const auto profile = libraries.cell(*change.cells.profile);
    if (profile) life.cell_profiles[*change.cells.profile] = *profile;
  }
  if (!life.unknown_cells) life.unknown_cells = libraries.cell(family_profile_id);
  const bool cells_named = std::any_of(record.items.begin(), record.items.end(),
                                       [](const ItemTerms& terms) { return terms.item == "cells"; });
  if (!cells_named) record.items.insert(record.items.begin(), ItemTerms{"cells", 4, 7, std::nullopt, std::nullopt});
}

}  // namespace cellarer::service
