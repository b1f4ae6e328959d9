// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

namespace cellarer::api {

/// Schemas of what the API gives; see schemas.hpp for what it takes.
nlohmann::json answer_schemas();

}  // namespace cellarer::api
