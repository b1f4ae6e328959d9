// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

namespace cellarer::api {

/// What the routes of lots take and give.
nlohmann::json lot_schemas();

}  // namespace cellarer::api
