// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

#include "server/api/routes.hpp"
#include "server/service/household_record.hpp"
#include "server/service/libraries.hpp"

namespace cellarer::api {

/// What a page needs for its forms: the household, its units with their gauges, the settings in force, cell
/// profiles to choose from, items and places known, and lots in stock.
nlohmann::json household_page(const service::HouseholdRecord& record, const service::Libraries& libraries, Instant now);

/// As the household's route tells it: with its newest entry, and whom the agency says to call.
nlohmann::json household_page(const Context& context, const std::string& agency, const service::Snapshot& snapshot);

/// Cell profiles to choose from: [{id, designation, usable}]. Fits them on first use: on a worker.
nlohmann::json cell_profiles_document(const service::Libraries& libraries);

}  // namespace cellarer::api
