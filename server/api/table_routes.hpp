// SPDX-License-Identifier: MIT
#pragma once
#include "server/api/routes.hpp"

namespace cellarer::api {

/// Tables in and out.
std::vector<Route> table_routes();

}  // namespace cellarer::api
