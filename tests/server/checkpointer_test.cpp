// SPDX-License-Identifier: MIT
// Who carries the log over to the database, and when.
#include <SQLiteCpp/Transaction.h>

#include <chrono>
#include <thread>

#include "server/store/checkpointer.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace cellarer;
using namespace cellarer::testing;

// SQLite by itself carries over in the commit that brings the log to 1000 pages (its documentation of
// sqlite3_wal_autocheckpoint); the database's file grows by nothing else.
TEST_CASE("a commit that makes the log long carries nothing over; that is done beside it", "[store]") {
  const TemporaryFolder folder;
  const auto file = folder.path() / "pages.sqlite";
  SQLite::Database writer(file.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
  writer.exec("PRAGMA journal_mode = WAL");
  writer.exec("CREATE TABLE page (content BLOB)");
  store::Checkpointer checkpointer(file, writer);
  constexpr std::uintmax_t page_bytes = 4096;
  constexpr int commits = 30, rows_of_each = 100;  // 3000 pages; the writer carries over by itself from 16 000 on
  std::uintmax_t before = 0, after = 0, log = 0;
  checkpointer.alone([&] {  // what works beside the writer waits meanwhile
    before = std::filesystem::file_size(file);
    for (int i = 0; i < commits; ++i) {
      SQLite::Transaction commit(writer);
      for (int k = 0; k < rows_of_each; ++k) writer.exec("INSERT INTO page VALUES (zeroblob(4000))");
      commit.commit();
    }
    after = std::filesystem::file_size(file);
    log = std::filesystem::file_size(folder.path() / "pages.sqlite-wal");
  });
  CHECK(log > commits * rows_of_each * page_bytes);
  CHECK(after == before);

  const auto is_carried_over = [&] { return std::filesystem::file_size(file) > commits * rows_of_each * page_bytes; };
  for (int tries = 0; tries < 1000 && !is_carried_over(); ++tries)
    std::this_thread::sleep_for(std::chrono::milliseconds(10));
  CHECK(is_carried_over());
}
