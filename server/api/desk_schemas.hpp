// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

namespace cellarer::api {

/// What the routes of the planner's desk take and give.
nlohmann::json desk_schemas();

}  // namespace cellarer::api
