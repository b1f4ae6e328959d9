// SPDX-License-Identifier: MIT
#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include <SQLiteCpp/Database.h>

/// Forward migrations: the numbered SQL files of server/store/migrations/, embedded at build time.
/// The n-th file takes the schema from version n - 1 to n; files are only ever added.
namespace cellarer::store {

struct Migration {
  std::string file;  ///< "0001_records.sql"
  std::string sql;
};

const std::vector<Migration>& migrations();

/// Marks a file as one of ours (SQLite's application_id).
inline constexpr int application_id = 0x43454c4c;

/// The version that this program writes.
inline int newest_schema() { return static_cast<int>(migrations().size()); }
int schema_of(SQLite::Database& database);

/// Where a store is copied to before it is brought up from that schema.
std::filesystem::path copy_before(const std::filesystem::path& file, int schema);

/// Brings the schema to the newest version, each step in a transaction of its own, and keeps a copy of the store as it
/// was, beside it. Throws `StoreError`
/// where the file is newer than this program, or is not a store.
void migrate(SQLite::Database& database);
/// The steps alone, to that schema.
void migrate_to(SQLite::Database& database, int schema);

}  // namespace cellarer::store
