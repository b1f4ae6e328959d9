// SPDX-License-Identifier: MIT
#pragma once
#include "server/service/agency_profiles.hpp"
#include "server/service/household_record.hpp"

namespace cellarer::service {

/// What an agency approved and this household's forecast rests on, as an export carries it
/// (server/api/inline_profiles.hpp): what is in force, and what was before each approval that is newer than the cells
/// of a side. Null where the program's own profiles are all that it needs.
nlohmann::json exported_profiles(const HouseholdRecord& record, const AgencyProfiles& profiles);

}  // namespace cellarer::service
