// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

#include "server/service/review_book.hpp"

namespace cellarer::api {

/// Looks at one cause alone that were made of a side: settings read, hours noted, currents measured.
nlohmann::json checks_of(const service::ReviewedHome& home, const review::HouseholdHistory& history, Side side);

}  // namespace cellarer::api
