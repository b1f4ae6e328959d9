// SPDX-License-Identifier: MIT
#pragma once
#include <SQLiteCpp/Database.h>

#include "server/store/store.hpp"

/// The SQL of erasing a household, and of what is left of it: quantities of stock, hashes in the audit trail.
namespace cellarer::store::rows {

/// Inside a transaction.
ErasedHousehold erase(SQLite::Database& database, const Erasure& erasure);

std::vector<ErasedStock> erased_stock(SQLite::Database& database, const std::string& agency);
/// A record of what is left of homes that were erased before their erasures said it.
void take_over_erased_stock(SQLite::Database& database, Instant at);

}  // namespace cellarer::store::rows
