// SPDX-License-Identifier: MIT
#pragma once
#include "server/api/routes.hpp"

namespace cellarer::api {

/// Where a lot is and how it did, recalls, corrected numbers.
std::vector<Route> lot_routes();

}  // namespace cellarer::api
