// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

namespace cellarer::api {

/// The OpenAPI 3.1 document, made from the table of routes and the schemas.
nlohmann::json openapi_document();

}  // namespace cellarer::api
