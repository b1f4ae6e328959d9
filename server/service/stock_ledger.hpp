// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "server/service/household_service.hpp"

/// The stock of an agency as one sum: no second bookkeeping, but the records of its households added up, and what
/// erased households left behind. Quantities alone; no household can be read from it.
namespace cellarer::service {

/// One lot of one item, in pieces. Always received = used + discarded + unaccounted + in_homes + left_with_erased.
struct LedgerLine {
  std::string item, lot;  ///< lot empty: not known
  std::int64_t received = 0, used = 0, discarded = 0;
  std::int64_t unaccounted = 0;  ///< books less counts; below nought where more was found than booked
  std::int64_t in_homes = 0, left_with_erased = 0;
};

/// What an erased household leaves, by its books.
std::vector<store::ErasedStock> left_by(const stock::Stock& books);

/// By item and lot. Folds every household of which nothing is kept (home_lots.hpp): on a worker.
std::vector<LedgerLine> stock_ledger(HouseholdService& households, const std::string& agency);

}  // namespace cellarer::service
