// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

namespace cellarer::api {

/// Schemas of what the API takes and gives about sessions, invitations and accounts; see schemas.hpp.
nlohmann::json access_schemas();

}  // namespace cellarer::api
