// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

namespace cellarer::api {

/// Schemas of the technician's bench.
nlohmann::json review_schemas();

}  // namespace cellarer::api
