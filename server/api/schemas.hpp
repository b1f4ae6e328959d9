// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

namespace cellarer::api {

/// The schemas that the routes name, for the OpenAPI document: JSON Schema 2020-12 by name.
const nlohmann::json& component_schemas();

}  // namespace cellarer::api
