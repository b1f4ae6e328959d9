// SPDX-License-Identifier: MIT
#pragma once
#include "server/api/routes.hpp"

namespace cellarer::api {

// cost_handlers.cpp
Response get_waste(const Context&, const Request&, const Parts&);
Response get_risk_curve(const Context&, const Request&, const Parts&);

nlohmann::json cost_schemas();

}  // namespace cellarer::api
