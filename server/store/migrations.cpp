// SPDX-License-Identifier: MIT
#include "server/store/migrations.hpp"

#include <SQLiteCpp/Statement.h>
#include <SQLiteCpp/Transaction.h>

#include "server/store/store.hpp"

namespace cellarer::store {

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
  for (int version = found + 1; version <= newest_schema(); ++version) {
    SQLite::Transaction transaction(database);
    database.exec(migrations()[static_cast<std::size_t>(version - 1)].sql);
    database.exec("PRAGMA application_id = " + std::to_string(application_id));
    database.exec("PRAGMA user_version = " + std::to_string(version));
    transaction.commit();
  }
}

}  // namespace cellarer::store
