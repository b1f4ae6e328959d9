// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

namespace cellarer::testing {

/// What in `value` breaks the schema, as "place: keyword" lines; empty where it holds. Knows the keywords of JSON
/// Schema 2020-12 that this project's schemas use: type, enum, const, required, properties, items, minItems,
/// maxItems, minLength, maxLength, pattern, minimum, maximum, exclusiveMinimum, oneOf, anyOf, and $ref inside
/// `document`.
std::vector<std::string> schema_faults(const nlohmann::json& document, const nlohmann::json& schema,
                                       const nlohmann::json& value, const std::string& place = "");

}  // namespace cellarer::testing
