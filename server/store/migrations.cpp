// SPDX-License-Identifier: MIT
#include "server/store/migrations.hpp"

#include <SQLiteCpp/Statement.h>
#include <SQLiteCpp/Transaction.h>

#include "server/store/access_rows.hpp"
#include "server/store/chain.hpp"
#include "server/store/erasing.hpp"
#include "server/store/files.hpp"

namespace cellarer::store {

namespace {

/// What SQL alone cannot do, in the transaction of the migration that needs it.
void finish(SQLite::Database& database, const Migration& migration) {
  if (migration.file == "0003_chain.sql") chain::adopt(database);
  if (migration.file == "0006_accounts_in_chain.sql") {
    const Instant now{std::chrono::seconds(database.execAndGet("SELECT unixepoch()").getInt64())};
    access_rows::take_over_accounts(database, now);
    rows::take_over_erased_stock(database, now);
  }
}

}  // namespace

std::filesystem::path copy_before(const std::filesystem::path& file, int schema) {
  return file.string() + ".schema-" + std::to_string(schema);
}

int schema_of(SQLite::Database& database) { return database.execAndGet("PRAGMA user_version").getInt(); }

void migrate(SQLite::Database& database) {
  const int found = schema_of(database);
  if (found > newest_schema()) {
    throw StoreError("the data were written by a newer program (schema " + std::to_string(found) +
                     ", this one knows up to " + std::to_string(newest_schema()) + "): use that program");
  }
  const bool empty = database.execAndGet("SELECT count(*) FROM sqlite_master").getInt() == 0;
  if (!empty && database.execAndGet("PRAGMA application_id").getInt() != application_id) {
    throw StoreError("the file is a database of some other program");
  }
  if (found > 0 && found < newest_schema()) {
    copy_database(database, copy_before(database.getFilename(), found));
  }
  migrate_to(database, newest_schema());
}

void migrate_to(SQLite::Database& database, int schema) {
  for (int version = schema_of(database) + 1; version <= schema; ++version) {
    SQLite::Transaction transaction(database);
    const Migration& migration = migrations()[static_cast<std::size_t>(version - 1)];
    database.exec(migration.sql);
    finish(database, migration);
    database.exec("PRAGMA application_id = " + std::to_string(application_id));
    database.exec("PRAGMA user_version = " + std::to_string(version));
    transaction.commit();
  }
}

}  // namespace cellarer::store
