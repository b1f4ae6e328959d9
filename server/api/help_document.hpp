// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

#include "server/service/agency_help.hpp"

namespace cellarer::api {

/// As a household's page gets it: words that nobody has approved are left out. Null where nothing was entered.
nlohmann::json help_for_household(const service::AgencyHelp& help);

}  // namespace cellarer::api
