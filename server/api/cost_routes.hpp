// SPDX-License-Identifier: MIT
#pragma once
#include "server/api/routes.hpp"

namespace cellarer::api {

/// What policy and habits cost, for the agency alone.
std::vector<Route> cost_routes();

}  // namespace cellarer::api
