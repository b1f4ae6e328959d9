// SPDX-License-Identifier: MIT
#pragma once
#include <SQLiteCpp/Database.h>

#include "server/store/store.hpp"

/// The SQL of the agency's journal (store.hpp, `StoredAgencyEntry`). An entry is a link of the agency's chain, whose
/// record holds its text, and a row that says which kind, subject and key it has.
namespace cellarer::store::rows {

/// Actions of the chain that begin so are entries of the journal; the kind follows.
inline constexpr const char* journal_action = "agency.";

/// Inside a transaction.
AgencyEntryWritten append(SQLite::Database& database, const NewAgencyEntry& entry);
/// In the order of recording, those after `after`.
std::vector<StoredAgencyEntry> agency_entries(SQLite::Database& database, const std::string& agency,
                                              std::int64_t after);

/// Inside a transaction that the caller rolls back where the outcome is none of `is_kept`.
BatchWritten write_together(SQLite::Database& database, const Batch& batch);

}  // namespace cellarer::store::rows
