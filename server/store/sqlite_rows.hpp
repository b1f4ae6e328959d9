// SPDX-License-Identifier: MIT
#pragma once
#include <SQLiteCpp/Database.h>

#include "server/store/store.hpp"

/// The SQL of the store, one function a statement or rule. Each runs on the connection it is given; the
/// caller sees to transactions and threads.
namespace cellarer::store::rows {

std::optional<StoredHousehold> household(SQLite::Database& database, const std::string& reference);
std::vector<StoredHousehold> households(SQLite::Database& database, const std::string& after, std::size_t limit);
std::vector<StoredEntry> entries(SQLite::Database& database, const std::string& household);
std::vector<StoredEntry> newest_entries(SQLite::Database& database, const std::string& household,
                                        std::optional<std::int64_t> before, std::size_t limit);
std::optional<StoredEntry> entry(SQLite::Database& database, const std::string& household, std::int64_t number);
std::optional<LaterRecord> recorded_after(SQLite::Database& database, Instant now);

/// Inside a transaction.
HouseholdWritten create_household(SQLite::Database& database, const NewHousehold& household);
EntryWritten append(SQLite::Database& database, const NewEntry& entry);

}  // namespace cellarer::store::rows
