// SPDX-License-Identifier: MIT
#include "server/store/sqlite_engine.hpp"

#include "server/store/migrations.hpp"

namespace cellarer::store {

namespace {

SQLite::Database open_for_writing(const std::filesystem::path& file) {
  try {
    // Its lock, which one thread alone would take ten times a statement, is a tenth of what recording costs.
    SQLite::Database database(file.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE | SQLite::OPEN_NOMUTEX,
                              busy_wait_ms);
    database.exec("PRAGMA journal_mode = WAL");
    database.exec("PRAGMA synchronous = FULL");
    database.exec("PRAGMA foreign_keys = ON");
    database.exec("PRAGMA secure_delete = ON");  // what is erased is overwritten with noughts
    migrate(database);
    return database;
  } catch (const SQLite::Exception& error) {
    throw StoreError("cannot open " + file.string() + ": " + error.what());
  }
}

}  // namespace

SqliteEngine::SqliteEngine(const std::filesystem::path& file, std::function<void()> others_wrote)
    : database_(open_for_writing(file)),
      checkpointer_(file, database_),
      writer_(database_, std::move(others_wrote)),
      readers_(file) {}

void SqliteEngine::checkpoint() {
  translated([this] {
    readers_.close();
    const auto connection = readers_.borrow();
    checkpointer_.alone([&] { connection->execAndGet("PRAGMA wal_checkpoint(TRUNCATE)"); });
  });
}

void SqliteEngine::empty_log() {
  try {
    const auto connection = readers_.borrow();
    checkpointer_.alone([&] { connection->execAndGet("PRAGMA wal_checkpoint(TRUNCATE)"); });
  } catch (const SQLite::Exception&) {
    // What was done is durable all the same.
  }
}

}  // namespace cellarer::store
