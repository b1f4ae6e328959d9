// SPDX-License-Identifier: MIT
// Cell changes: which are perhaps the same, and what they used.
#include <algorithm>
#include <set>

#include "server/service/fold.hpp"

namespace cellarer::service {

namespace {

constexpr double same_change_window_h = 12;

/// A warning or a stop of that side recorded to have happened after the first change, up to the second.
bool trouble_between(const HouseholdRecord& record, const life::CellChange& first, const life::CellChange& second) {
  return std::any_of(record.life.readings.begin(), record.life.readings.end(), [&](const life::Reading& reading) {
    const bool trouble = std::holds_alternative<life::WarningSounded>(reading.value) ||
                         std::holds_alternative<life::SideStopped>(reading.value);
    return trouble && reading.side == first.side && reading.at > first.at && reading.at <= second.at;
  });
}

bool perhaps_the_same(const HouseholdRecord& record, const life::CellChange& first, const life::CellChange& second) {
  // Whatever the reasons: two phones may say "planned" and "after a warning" of one change. Trouble is what was
  // recorded of the side itself; a reason alone is asked about, and until somebody answers the older set counts.
  return hours_between(first.at, second.at) < same_change_window_h && !trouble_between(record, first, second);
}

void book_use(HouseholdRecord& record, const CellChangeFact& fact, std::set<std::string>& sets_seen) {
  const auto& cells = fact.change.cells;
  const bool put_back = cells.set_id && !sets_seen.insert(*cells.set_id).second;
  if (!fact.from_stock || put_back) return;
  stock::Line used{"cells", cells.lot, cells_in_series_at(record, fact.change.at), cells.expires,
                   fact.place.value_or(usual_place)};
  record.stock.push_back({fact.change.at, stock::Happened::used, used});
}

}  // namespace

int cells_in_series_at(const HouseholdRecord& record, Instant at) {
  int cells = 2;
  for (const life::UnitInUse& unit : record.life.units) {
    if (unit.from <= at) cells = unit.stimulator.cells_in_series;
  }
  return cells;
}

void add_changes(HouseholdRecord& record, std::vector<NumberedChange> changes) {
  std::stable_sort(changes.begin(), changes.end(), [](const NumberedChange& a, const NumberedChange& b) {
    return a.fact.change.at < b.fact.change.at;
  });
  std::set<std::string> sets_seen;
  std::array<std::optional<life::CellChange>, 2> certain;  // the last change of each side that is no repeat
  for (NumberedChange& numbered : changes) {
    life::CellChange& change = numbered.fact.change;
    auto& before = certain[change.side == Side::left ? 0 : 1];
    const bool asked = before && !numbered.known_different && !numbered.found_in_place;
    change.perhaps_the_same = asked && perhaps_the_same(record, *before, change);
    if (numbered.found_in_place)
      before.reset();
    else if (change.perhaps_the_same)
      record.asked_changes.push_back({change.side, change.at, numbered.entry});
    else
      before = change;
    book_use(record, numbered.fact, sets_seen);
    record.life.cell_changes.push_back(change);
  }
}

}  // namespace cellarer::service
