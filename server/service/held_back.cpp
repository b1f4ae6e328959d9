// SPDX-License-Identifier: MIT
#include "server/service/held_back.hpp"

#include <algorithm>

namespace cellarer::service {

namespace {

/// When the older of the two sides' sets went in; none where no side has cells.
std::optional<Instant> oldest_cells_in(const life::Household& life) {
  std::optional<Instant> oldest;
  for (const auto side : both_sides) {
    std::optional<Instant> in;
    for (const auto& change : life.cell_changes) {
      if (change.side == side && !change.perhaps_the_same) in = change.at;
    }
    if (in && (!oldest || *in < *oldest)) oldest = in;
  }
  return oldest;
}

}  // namespace

bool touches(const life::Household& life, Proposal::Kind kind, const std::string& subject) {
  const auto any_unit = [&](const auto& is) { return std::any_of(life.units.begin(), life.units.end(), is); };
  switch (kind) {
    case Proposal::Kind::cell:
      return subject == family_profile_id ||
             std::any_of(life.cell_changes.begin(), life.cell_changes.end(),
                         [&](const life::CellChange& change) { return change.cells.profile == subject; });
    case Proposal::Kind::unit:
      return any_unit([&](const life::UnitInUse& unit) { return unit.serial == subject; });
    case Proposal::Kind::stimulator:
      return any_unit([&](const life::UnitInUse& unit) { return unit.stimulator.id == subject; });
    case Proposal::Kind::steps:
      break;
  }
  return false;
}

std::vector<BeforeApproval> before_approvals(const store::StoredHousehold& household,
                                             const std::vector<store::StoredEntry>& entries,
                                             const HouseholdRecord& record, const Libraries& base,
                                             const Profiles& profiles) {
  std::vector<BeforeApproval> found;
  const auto oldest = oldest_cells_in(record.life);
  if (!oldest) return found;
  for (const auto& version : profiles->versions) {
    if (version.approved_at <= *oldest || !touches(record.life, version.kind, version.subject)) continue;
    const AgencyLibraries then(base, profiles, version.approved_at - std::chrono::seconds(1));
    found.push_back({version.approved_at, fold(household, entries, then).record.life});
  }
  return found;
}

}  // namespace cellarer::service
