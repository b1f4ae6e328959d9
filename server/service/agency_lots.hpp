// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <optional>

#include "server/service/agency_record.hpp"
#include "server/service/household_service.hpp"

namespace cellarer::service {

/// One lot in an agency's own store.
struct LotInStore {
  std::int64_t pieces = 0;  ///< there now; what is on order counts when it has come
  std::int64_t lost = 0;    ///< came to no home and is written off
  std::optional<std::chrono::year_month> expires;
};

/// What the agency's own entries say, with the numbers of lots as they were corrected.
AgencyRecord agency_books(HouseholdService& households, const std::string& agency);

/// Every lot with a number that the agency's own books name, by its right number.
std::map<LotName, LotInStore> lots_in_store(const AgencyRecord& books);

}  // namespace cellarer::service
