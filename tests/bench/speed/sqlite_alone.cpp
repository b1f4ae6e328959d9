// SPDX-License-Identifier: MIT
// sqlite_alone FILE SECONDS: rows a second that SQLite takes by itself, 64 a transaction, WAL, synchronous FULL, into a
// table like that of entries. Prints the number.
#include <chrono>
#include <cstdio>
#include <iostream>

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>
#include <SQLiteCpp/Transaction.h>

namespace {

int run(const std::string& file, double seconds) {
  constexpr int rows_a_transaction = 64;
  SQLite::Database database(file, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
  database.exec("PRAGMA journal_mode = WAL");
  database.exec("PRAGMA synchronous = FULL");
  database.exec(
      "CREATE TABLE IF NOT EXISTS entry (household_id INTEGER, number INTEGER, kind TEXT, at INTEGER, recorded_at "
      "INTEGER, who TEXT, body TEXT, voids INTEGER, PRIMARY KEY (household_id, number)) WITHOUT ROWID");
  SQLite::Statement last(database, "SELECT coalesce(max(number), 0) FROM entry");
  last.executeStep();
  std::int64_t number = last.getColumn(0).getInt64();
  last.reset();
  SQLite::Statement insert(database, "INSERT INTO entry VALUES (?, ?, 'reading', ?, ?, 'Kitchen phone', ?, NULL)");
  const std::string body = R"({"at":"2026-03-01T21:30:00+01:00","side":"left","percent":62,"condition":"pacing"})";
  const auto began = std::chrono::steady_clock::now();
  std::chrono::duration<double> passed{};
  long rows = 0;
  while ((passed = std::chrono::steady_clock::now() - began).count() < seconds) {
    SQLite::Transaction transaction(database, SQLite::TransactionBehavior::IMMEDIATE);
    ++number;
    for (int household = 1; household <= rows_a_transaction; ++household) {
      insert.bind(1, household);
      insert.bind(2, number);
      insert.bind(3, 1'772'000'000 + number);
      insert.bind(4, 1'772'000'000 + number);
      insert.bind(5, body);
      insert.exec();
      insert.reset();
    }
    transaction.commit();
    rows += rows_a_transaction;
  }
  std::printf("%.1f\n", static_cast<double>(rows) / passed.count());
  return 0;
}

}  // namespace

int main(int count, char** arguments) {
  try {
    if (count != 3) throw std::runtime_error("sqlite_alone FILE SECONDS");
    return run(arguments[1], std::stod(arguments[2]));
  } catch (const std::exception& error) {
    std::cerr << "sqlite_alone: " << error.what() << "\n";
    return 1;
  }
}
