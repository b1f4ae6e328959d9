// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

#include "server/service/agency_profiles.hpp"
#include "server/service/bench_journal.hpp"

namespace cellarer::api {

/// What was measured of a unit on the bench, currents and then its gauge, each beside what its model says.
nlohmann::json bench_values(const service::BenchJournal& bench, const std::string& serial,
                            const service::Libraries& libraries, const std::string& account);

/// The unit's own profile that is in force, null for none: {number, approved_at, text}.
nlohmann::json measured_profile(const service::AgencyProfiles& profiles, const std::string& serial, Instant now);

}  // namespace cellarer::api
