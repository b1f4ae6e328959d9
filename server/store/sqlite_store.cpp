// SPDX-License-Identifier: MIT
#include "server/store/sqlite_store.hpp"

#include <SQLiteCpp/Exception.h>

#include "server/store/group_commit.hpp"
#include "server/store/migrations.hpp"
#include "server/store/reader_pool.hpp"
#include "server/store/sqlite_rows.hpp"

namespace cellarer::store {

namespace {

constexpr int busy_wait_ms = 5000;  // a backup or a check may hold the file for a moment

/// Opens for writing with the pragmas that make a commit durable, and migrates.
SQLite::Database open_for_writing(const std::filesystem::path& file) {
  try {
    SQLite::Database database(file.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE, busy_wait_ms);
    database.exec("PRAGMA journal_mode = WAL");
    database.exec("PRAGMA synchronous = FULL");
    database.exec("PRAGMA foreign_keys = ON");
    migrate(database);
    return database;
  } catch (const SQLite::Exception& error) {
    throw StoreError("cannot open " + file.string() + ": " + error.what());
  }
}

/// SQLite's exceptions become the store's, so that nobody above knows the engine.
template <class Work>
auto translated(const Work& work) {
  try {
    return work();
  } catch (const SQLite::Exception& error) {
    throw StoreError(error.what());
  }
}

class SqliteStore final : public Store {
 public:
  explicit SqliteStore(const std::filesystem::path& file)
      : database_(open_for_writing(file)), writer_(database_), readers_(file) {}

  HouseholdWritten create_household(const NewHousehold& wanted) override {
    return written<HouseholdWritten>([&](SQLite::Database& db) { return rows::create_household(db, wanted); });
  }

  EntryWritten append(const NewEntry& wanted) override {
    return written<EntryWritten>([&](SQLite::Database& db) { return rows::append(db, wanted); });
  }

  std::optional<StoredHousehold> household(const std::string& reference) override {
    return read([&](SQLite::Database& db) { return rows::household(db, reference); });
  }

  std::vector<StoredHousehold> households(const std::string& after, std::size_t limit) override {
    return read([&](SQLite::Database& db) { return rows::households(db, after, limit); });
  }

  std::vector<StoredEntry> entries(const std::string& household) override {
    return read([&](SQLite::Database& db) { return rows::entries(db, household); });
  }

  std::vector<StoredEntry> newest_entries(const std::string& household, std::optional<std::int64_t> before,
                                          std::size_t limit) override {
    return read([&](SQLite::Database& db) { return rows::newest_entries(db, household, before, limit); });
  }

  std::optional<StoredEntry> entry(const std::string& household, std::int64_t number) override {
    return read([&](SQLite::Database& db) { return rows::entry(db, household, number); });
  }

  bool ready() override {
    try {
      return read([](SQLite::Database& db) { return schema_of(db) == newest_schema(); });
    } catch (const std::exception&) {
      return false;
    }
  }

  void checkpoint() override {
    // Outside a transaction, so not through the group; the writer is idle when this is called at the end.
    translated([&] {
      readers_.close();
      SQLite::Database& db = database_;
      return db.execAndGet("PRAGMA wal_checkpoint(TRUNCATE)").getInt();
    });
  }

 private:
  template <class Result, class Work>
  Result written(const Work& work) {
    return translated([&] {
      Result result;
      writer_.run([&](SQLite::Database& db) { result = work(db); });
      return result;
    });
  }

  template <class Work>
  auto read(const Work& work) -> decltype(work(std::declval<SQLite::Database&>())) {
    return translated([&] {
      const auto connection = readers_.borrow();
      return work(*connection);
    });
  }

  SQLite::Database database_;  ///< the writer's connection
  GroupCommit writer_;
  ReaderPool readers_;
};

}  // namespace

std::unique_ptr<Store> open_sqlite_store(const std::filesystem::path& file) {
  return std::make_unique<SqliteStore>(file);
}

}  // namespace cellarer::store
