// SPDX-License-Identifier: MIT
#include "server/service/fold.hpp"

#include <algorithm>
#include <set>

#include "server/service/desk_record.hpp"
#include "server/service/plan_fold.hpp"

namespace cellarer::service {

using json::Field;
using store::StoredEntry;

namespace {

void set_terms(std::vector<ItemTerms>& items, ItemTerms terms) {
  const auto same = std::find_if(items.begin(), items.end(), [&](const auto& one) { return one.item == terms.item; });
  if (same == items.end())
    items.push_back(std::move(terms));
  else
    *same = std::move(terms);
}

void add_fact(HouseholdRecord& record, const StoredEntry& entry, const Field& body) {
  const std::string_view what = entry.kind;
  auto& life = record.life;
  if (what == kind::reminders) {
    record.reminders = read_reminder_settings(body);
    record.reminders.entry = entry.number;
  }
  if (what == kind::unit) record.units.push_back(read_unit(body));
  if (what == kind::settings) life.settings.push_back(read_settings(body));
  if (what == kind::reading) life.readings.push_back(read_reading(body, entry.recorded_at));
  if (what == kind::paced) life.paced_instead.push_back(read_paced_instead(body));
  if (what == kind::switched_off) life.switched_off.push_back(read_switched_off(body));
  if (what == kind::stay) record.stays.push_back(read_stay(body));
  if (what == kind::stock_count) record.stock.push_back(read_stock_event(body, stock::Happened::counted));
  if (what == kind::delivery) record.stock.push_back(read_stock_event(body, stock::Happened::received));
  if (what == kind::item_terms) set_terms(record.items, read_item_terms(body));
  if (what == kind::recall_call) record.recall_calls.push_back(read_recall_call(body, entry.at, entry.who));
  if (what == kind::discard) record.stock.push_back(read_stock_event(body, stock::Happened::discarded));
  if (what == kind::use) record.stock.push_back(read_stock_event(body, stock::Happened::used));
}

void add_bench(BenchRecord& bench, const StoredEntry& entry, const Field& body) {
  const std::string_view what = entry.kind;
  if (what == kind::check) bench.checks.push_back(read_check(body)), bench.checks.back().entry = entry.number;
  if (what == kind::part) bench.parts.push_back(read_part(body)), bench.parts.back().entry = entry.number;
  if (what != kind::finding_note) return;
  auto note = read_finding_note(body);
  note.at = entry.recorded_at;
  note.who = entry.who;
  note.number = entry.number;
  bench.notes.push_back(std::move(note));
}

void add_household(HouseholdRecord& record, const store::StoredHousehold& household) {
  const auto document = json::parse(household.document);
  const auto fact = read_household_fact(Field(document, ""));
  record.reference = fact.reference;
  record.area = fact.area;
  record.stop = fact.stop;
  record.zone_name = fact.zone_name;
  record.life.zone = fact.zone;
  record.life.changing_times = fact.changing_times;
  record.items = fact.items;
  if (fact.policy) record.life.policy = *fact.policy;
}

/// What the planner's desk recorded and homes, lots and exports are asked about.
void add_desk(HouseholdRecord& record, const std::vector<StoredEntry>& entries) {
  DeskRecord desk = desk_record(record.area, record.stop, entries);
  record.area = std::move(desk.area);
  record.stop = std::move(desk.stop);
  record.closed_since = desk.closed_at;
  for (DeskDelivery& delivery : desk.deliveries) {
    if (delivery.answer == Answer::open)
      record.unanswered.push_back(std::move(delivery));
    else if (!missing_of(delivery).empty())
      record.answered.push_back(std::move(delivery));
  }
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

/// Numbers of lots as they were corrected, and those of them that are called back.
void heed_lots(HouseholdRecord& record, std::vector<NumberedChange>& changes, const LotFacts& lots) {
  std::set<LotName> here;
  for (stock::Event& event : record.stock) {
    if (!event.line.lot) continue;
    event.line.lot = lots.right({event.line.item, *event.line.lot});
    here.insert({event.line.item, *event.line.lot});
  }
  for (NumberedChange& change : changes) {
    auto& lot = change.fact.change.cells.lot;
    if (!lot) continue;
    lot = lots.right({stock::cells_item, *lot});
    here.insert({stock::cells_item, *lot});
  }
  correct_lots(record.unanswered, lots);
  correct_lots(record.answered, lots);
  for (RecallCall& call : record.recall_calls) call.lot = lots.right({call.item, call.lot});
  for (const LotName& lot : here) {
    if (const LotRecall* recall = lots.recall_of(lot)) record.recalled_lots.push_back({lot.item, lot.lot, recall->at});
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
            const Libraries& libraries, const LotFacts& lots) {
  Folded folded;
  HouseholdRecord& record = folded.record;
  add_household(record, household);
  add_desk(record, entries);
  const Said said = what_entries_say(entries);
  PlanFold plans(said);
  std::vector<NumberedChange> changes;
  for (const StoredEntry& entry : entries) {
    if (entry.voided_by) folded.voided_by[entry.number] = *entry.voided_by;
    const auto same = said.same.find(entry.number);
    const bool repeated = same != said.same.end() && entry.kind == kind::cell_change;
    if (repeated) folded.voided_by.emplace(entry.number, same->second);
    if (entry.voided_by || repeated) continue;
    const auto document = with_end(said, entry);
    const Field body(document, "");
    if (entry.kind == kind::cell_change) {
      changes.push_back(
          {read_cell_change(body, entry.recorded_at), entry.number, said.different.count(entry.number) > 0});
    } else {
      add_fact(record, entry, body);
      add_bench(record.bench, entry, body);
      plans.add(record, entry, body);
    }
  }
  plans.finish(record, changes);
  heed_lots(record, changes, lots);
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
    const auto stimulator = libraries.unit(unit.serial, unit.stimulator);
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
