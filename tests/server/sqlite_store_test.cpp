// SPDX-License-Identifier: MIT
// What only the engine in a file can show: durability, migrations, group commit.
#include <future>
#include <thread>

#include <SQLiteCpp/Statement.h>

#include "server/store/group_commit.hpp"
#include "server/store/migrations.hpp"
#include "server/store/sqlite_store.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/noon.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace cellarer;
using cellarer::testing::noon;
using namespace cellarer::store;

TEST_CASE("what was stored is there when the file is opened again", "[store]") {
  const cellarer::testing::TemporaryFolder folder;
  const auto file = folder.path() / file_name;
  {
    const auto store = open_sqlite_store(file);
    store->create_household({"h-1", "{}", "a", noon});
    store->append({"h-1", "reading", noon, noon, "", "{}", "k"});
    store->checkpoint();
  }
  CHECK(std::filesystem::file_size(file) > 0);
  const auto again = open_sqlite_store(file);
  CHECK(again->ready());
  CHECK(again->entries("h-1").size() == 1);
  CHECK(again->append({"h-1", "reading", noon, noon, "", "{}", "k"}).outcome == Outcome::repeated);
}

TEST_CASE("the file is in WAL mode and carries the newest schema and our mark", "[store]") {
  const cellarer::testing::TemporaryFolder folder;
  const auto file = folder.path() / file_name;
  open_sqlite_store(file);
  SQLite::Database database(file.string(), SQLite::OPEN_READWRITE);
  CHECK(database.execAndGet("PRAGMA journal_mode").getString() == "wal");
  CHECK(schema_of(database) == newest_schema());
  CHECK(database.execAndGet("PRAGMA application_id").getInt() == application_id);
  // WITHOUT ROWID shows as one b-tree: SQLite refuses to name the rowid of such a table.
  CHECK_THROWS_AS(database.execAndGet("SELECT rowid FROM entry"), SQLite::Exception);
}

TEST_CASE("a store of a newer program is refused and left as it is", "[store]") {
  const cellarer::testing::TemporaryFolder folder;
  const auto file = folder.path() / file_name;
  open_sqlite_store(file);
  const int newer = newest_schema() + 1;
  {
    SQLite::Database database(file.string(), SQLite::OPEN_READWRITE);
    database.exec("PRAGMA user_version = " + std::to_string(newer));
  }
  CHECK_THROWS_AS(open_sqlite_store(file), StoreError);
  SQLite::Database database(file.string(), SQLite::OPEN_READWRITE);
  CHECK(schema_of(database) == newer);
}

TEST_CASE("another program's database, or no database at all, is refused", "[store]") {
  const cellarer::testing::TemporaryFolder folder;
  const auto other = folder.path() / "other.sqlite";
  {
    SQLite::Database database(other.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
    database.exec("CREATE TABLE music (title TEXT)");
  }
  CHECK_THROWS_AS(open_sqlite_store(other), StoreError);
  CHECK_THROWS_AS(open_sqlite_store(folder.path() / "missing" / "folder.sqlite"), StoreError);
}

TEST_CASE("an append that fails is told of as the store's own error, and the next one goes in", "[store]") {
  const cellarer::testing::TemporaryFolder folder;
  const auto file = folder.path() / file_name;
  const auto store = open_sqlite_store(file);
  REQUIRE(store->create_household({"h-1", "{}", "a", noon}).outcome == Outcome::stored);
  const auto outcome = [&store](const std::string& key) {
    std::promise<Outcome> told;
    store->append_then({"h-1", "reading", noon, noon, "", "{}", key},
                       [&told](const EntryWritten* written, const std::exception_ptr& failure) {
                         if (failure)
                           told.set_exception(failure);
                         else
                           told.set_value(written->outcome);
                       });
    return told.get_future().get();
  };
  SQLite::Database other(file.string(), SQLite::OPEN_READWRITE);
  other.exec("ALTER TABLE idempotency RENAME TO away");
  CHECK_THROWS_AS(outcome("k"), StoreError);
  CHECK(store->household("h-1")->last_entry == 0);
  other.exec("ALTER TABLE away RENAME TO idempotency");
  CHECK(outcome("k") == Outcome::stored);
  CHECK(outcome("k") == Outcome::repeated);
  CHECK(store->household("h-1")->last_entry == 1);
}

TEST_CASE("writes that wait together are committed together, and one that fails fails alone", "[store]") {
  const cellarer::testing::TemporaryFolder folder;
  SQLite::Database database((folder.path() / "group.sqlite").string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
  database.exec("CREATE TABLE number (n INTEGER PRIMARY KEY)");
  GroupCommit writer(database);
  std::promise<void> started, go_on;
  std::vector<std::thread> callers;
  callers.emplace_back([&] {
    writer.run([&](SQLite::Database&) {
      started.set_value();
      go_on.get_future().wait();
    });
  });
  started.get_future().wait();
  std::atomic<int> refused{0}, arriving{0};
  for (int n = 0; n < 10; ++n) {
    callers.emplace_back([&, n] {
      ++arriving;
      try {
        writer.run([n](SQLite::Database& db) {
          db.exec("INSERT INTO number VALUES (" + std::to_string(n == 9 ? 0 : n) + ")");
        });
      } catch (const SQLite::Exception&) {
        ++refused;
      }
    });
  }
  while (arriving < 10) std::this_thread::yield();
  go_on.set_value();
  for (auto& caller : callers) caller.join();
  CHECK(refused == 1);
  CHECK(database.execAndGet("SELECT count(*) FROM number").getInt() == 9);
}
