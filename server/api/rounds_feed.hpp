// SPDX-License-Identifier: MIT
#pragma once
#include "server/api/routes.hpp"

namespace cellarer::api {

/// The rounds as a calendar that other programs read by a secret address.
std::vector<Route> rounds_feed_routes();
nlohmann::json rounds_feed_schemas();

}  // namespace cellarer::api
