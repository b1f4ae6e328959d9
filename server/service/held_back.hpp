// SPDX-License-Identifier: MIT
#pragma once
#include "server/service/agency_profiles.hpp"
#include "server/service/fold.hpp"

namespace cellarer::service {

/// No `change by` moves later for cells that are already in: what the household would be with the profiles before each
/// approval that is newer than the cells of a side and that touches it. `record`: folded with all of them.
std::vector<BeforeApproval> before_approvals(const store::StoredHousehold& household,
                                             const std::vector<store::StoredEntry>& entries,
                                             const HouseholdRecord& record, const Libraries& base,
                                             const Profiles& profiles);

/// Whether a profile is used by what this household's forecast rests on.
bool touches(const life::Household& life, Proposal::Kind kind, const std::string& subject);

}  // namespace cellarer::service
