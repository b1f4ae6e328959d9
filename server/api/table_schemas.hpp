// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

namespace cellarer::api {

/// What the routes of tables take and give.
nlohmann::json table_schemas();

}  // namespace cellarer::api
