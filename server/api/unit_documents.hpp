// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

#include "server/service/unit_history.hpp"

namespace cellarer::api {

/// One unit on a list: {serial, stimulator, place, homes, sets, faults, more_percent, low_percent, high_percent,
/// draws_too_much, measured, text}. `pooled`: what all its sets say; null where none was observed.
nlohmann::json unit_line(const service::ReviewedAgency& agency, const service::UnitHistory& unit,
                         const review::Pooled* pooled);

/// The same with its places, faults, bench values, homes and sets. `homes`: those that it was in; `account`: who reads,
/// to say "you".
nlohmann::json unit_document(const service::ReviewedAgency& agency, const service::UnitHistory& unit,
                             const service::ReviewedHomes& homes, const service::Libraries& libraries,
                             const service::AgencyProfiles& profiles, const std::string& account);

nlohmann::json lot_document(const service::ReviewedAgency& agency, const review::Pooled& lot);

const review::Pooled* pooled_of(const std::vector<review::Pooled>& all, const std::string& subject);

}  // namespace cellarer::api
