// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

namespace cellarer::api {

/// What the API takes about plans; the readers of server/service/plan_facts.hpp and what_if.hpp decide.
nlohmann::json plan_schemas();

}  // namespace cellarer::api
