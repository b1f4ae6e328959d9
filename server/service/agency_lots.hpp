// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <optional>

#include "server/service/household_service.hpp"

namespace cellarer::service {

/// One lot in an agency's own store.
struct LotInStore {
  std::int64_t pieces = 0;  ///< there now; what is on order counts when it has come
  std::optional<std::chrono::year_month> expires;
};

/// Every lot with a number that the agency's own books name, by its right number.
std::map<LotName, LotInStore> lots_in_store(HouseholdService& households, const std::string& agency);

}  // namespace cellarer::service
