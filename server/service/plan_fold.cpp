// SPDX-License-Identifier: MIT
#include "server/service/plan_fold.hpp"

#include <algorithm>
#include <string_view>

namespace cellarer::service {

using json::Field;

namespace {

bool is_plan(std::string_view what) {
  constexpr std::string_view plans[] = {kind::paced_more, kind::paced,    kind::switched_off, kind::visit,
                                        kind::stay,       kind::hospital, kind::unit,         kind::settings};
  return std::find(std::begin(plans), std::end(plans), what) != std::end(plans);
}

/// The cells that were in a side at a moment, as far as anyone recorded them.
std::optional<life::CellSet> cells_before(const std::vector<NumberedChange>& changes, Side side, Instant at) {
  const life::CellChange* last = nullptr;
  for (const NumberedChange& numbered : changes) {
    const auto& change = numbered.fact.change;
    if (change.side == side && change.at <= at && (last == nullptr || change.at >= last->at)) last = &change;
  }
  if (last == nullptr) return std::nullopt;
  return last->cells;
}

}  // namespace

void PlanFold::add(HouseholdRecord& record, const store::StoredEntry& entry, const Field& body) {
  const std::string_view what = entry.kind;
  if (is_plan(what)) record.plans.push_back({entry.number, entry.kind, body.value()});
  if (what == kind::paced_more) {
    auto more = read_paced_more(body);
    more.entry = entry.number;
    if (const auto still = said_.still.find(entry.number); still != said_.still.end()) more.still_at = still->second;
    record.paced_more.push_back(std::move(more));
  }
  if (what == kind::visit) record.visits.push_back(read_visit(body));
  if (what == kind::hospital) {
    admissions_.push_back(read_hospital(body));
    admissions_.back().entry = entry.number;
  }
  if (what == kind::back_home) returns_.push_back({read_back_home(body), entry.number, entry.recorded_at});
}

void PlanFold::finish(HouseholdRecord& record, std::vector<NumberedChange>& changes) const {
  auto admissions = admissions_;
  auto returns = returns_;
  std::stable_sort(admissions.begin(), admissions.end(),
                   [](const Hospital& a, const Hospital& b) { return a.stay.from < b.stay.from; });
  std::stable_sort(returns.begin(), returns.end(),
                   [](const Return& a, const Return& b) { return a.home.at < b.home.at; });
  auto admission = admissions.begin();
  for (const Return& back : returns) {
    const Instant at = back.home.at;
    Hospital hospital;
    hospital.stay.from = at - std::chrono::seconds(1);
    if (admission != admissions.end() && admission->stay.from <= at) hospital = *admission;
    while (admission != admissions.end() && admission->stay.from <= at) ++admission;
    hospital.stay.to = at;
    hospital.stay.settings = back.home.settings;
    hospital.stay.unit = back.home.unit;
    if (back.home.unit_used == UnitUsed::no && hospital.stay.from < at) {
      for (const Side side : both_sides) record.life.switched_off.push_back({side, hospital.stay.from, at});
    }
    record.hospital.push_back(std::move(hospital));
    add_found_cells(back, changes);
  }
  if (admission != admissions.end()) record.hospital.push_back(*admission);
}

void PlanFold::add_found_cells(const Return& back, std::vector<NumberedChange>& changes) const {
  for (const Side side : both_sides) {
    const FoundInSide& found = back.home.cells[side == Side::left ? 0 : 1];
    const bool used_unknown = back.home.unit_used == UnitUsed::unknown;
    const auto before = cells_before(changes, side, back.home.at);
    if (found.are == FoundCells::as_before && (!used_unknown || !before)) continue;
    if (found.are == FoundCells::fresh && said_.same.count(back.entry) > 0) continue;
    NumberedChange numbered;
    life::CellChange& change = numbered.fact.change;
    change.at = found.changed_at;
    change.recorded_at = back.recorded_at;
    change.side = side;
    change.reason = life::ChangeReason::unknown;
    change.cells = found.are == FoundCells::as_before ? *before : found.cells;
    if (found.are != FoundCells::fresh) change.cells.age = life::CellAge::unknown;
    numbered.fact.from_stock = found.from_stock;
    numbered.entry = back.entry;
    numbered.known_different = said_.different.count(back.entry) > 0;
    numbered.found_in_place = found.are != FoundCells::fresh;
    changes.push_back(std::move(numbered));
  }
}

}  // namespace cellarer::service
