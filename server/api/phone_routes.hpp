// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include <nlohmann/json.hpp>

#include "server/api/routes.hpp"

/// What the caregiver's phone has beside recording and reading: events as they come, the agency's words for when
/// something is wrong, reminders by calendar and by push.
namespace cellarer::api {

std::vector<Route> phone_routes();
nlohmann::json phone_schemas();

}  // namespace cellarer::api
