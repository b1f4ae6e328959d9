// SPDX-License-Identifier: MIT
#include "server/store/maintenance.hpp"

#include <SQLiteCpp/Backup.h>
#include <SQLiteCpp/Exception.h>
#include <SQLiteCpp/Statement.h>

#include "server/store/migrations.hpp"
#include "server/store/sqlite_store.hpp"

namespace cellarer::store {

namespace {

constexpr int busy_wait_ms = 5000;
constexpr int all_pages = -1;

/// A store that is there already; nothing is made.
SQLite::Database open_present(const std::filesystem::path& file) {
  if (!std::filesystem::is_regular_file(file)) throw StoreError("there is no store at " + file.string());
  try {
    SQLite::Database database(file.string(), SQLite::OPEN_READWRITE, busy_wait_ms);
    database.exec("PRAGMA query_only = ON");
    if (database.execAndGet("PRAGMA application_id").getInt() != application_id) {
      throw StoreError(file.string() + " is not a store of this program");
    }
    return database;
  } catch (const SQLite::Exception& error) {
    throw StoreError("cannot read " + file.string() + ": " + error.what());
  }
}

/// Copies into a file beside `to`, and gives it its name when it is whole.
void copy(SQLite::Database& from, const std::filesystem::path& to) {
  auto partial = to;
  partial += ".partial";
  std::filesystem::remove(partial);
  try {
    SQLite::Database target(partial.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
    SQLite::Backup(target, from).executeStep(all_pages);
    target.exec("PRAGMA journal_mode = DELETE");  // one file, without a log beside it
  } catch (const SQLite::Exception& error) {
    std::filesystem::remove(partial);
    throw StoreError("cannot write " + to.string() + ": " + error.what());
  }
  std::filesystem::rename(partial, to);
}

std::int64_t count(SQLite::Database& database, const char* query) { return database.execAndGet(query).getInt64(); }

/// What SQLite cannot know: counters and marks agree with the entries.
void check_records(SQLite::Database& database, Report& report) {
  const auto wrong_counters = count(database,
                                    "SELECT count(*) FROM household h WHERE last_entry <> "
                                    "(SELECT count(*) FROM entry WHERE household_id = h.id)");
  if (wrong_counters > 0) report.faults.push_back(std::to_string(wrong_counters) + " households lack entries");
  const auto lost_marks = count(database,
                                "SELECT count(*) FROM entry e WHERE voids IS NOT NULL AND NOT EXISTS (SELECT 1 FROM "
                                "voided v WHERE v.household_id = e.household_id AND v.number = e.voids)");
  if (lost_marks > 0) report.faults.push_back(std::to_string(lost_marks) + " voids have lost their mark");
}

}  // namespace

void backup(const std::filesystem::path& from, const std::filesystem::path& to) {
  if (std::filesystem::exists(to)) throw StoreError(to.string() + " is there already: name a new file");
  auto database = open_present(from);
  copy(database, to);
}

void restore(const std::filesystem::path& from, const std::filesystem::path& data) {
  const auto to = data / file_name;
  if (std::filesystem::exists(to)) {
    throw StoreError(data.string() + " holds a store already, and it is not overwritten: name an empty folder");
  }
  const Report report = check(from);
  if (!report.faults.empty()) throw StoreError(from.string() + " is damaged: " + report.faults.front());
  if (report.schema > newest_schema()) {
    throw StoreError(from.string() + " was written by a newer program (schema " + std::to_string(report.schema) +
                     "): use that program");
  }
  std::filesystem::create_directories(data);
  auto database = open_present(from);
  copy(database, to);
}

Report check(const std::filesystem::path& file) {
  auto database = open_present(file);
  try {
    Report report;
    report.schema = schema_of(database);
    SQLite::Statement integrity(database, "PRAGMA integrity_check(20)");
    while (integrity.executeStep()) {
      const auto line = integrity.getColumn(0).getString();
      if (line != "ok") report.faults.push_back(line);
    }
    if (!report.faults.empty()) return report;
    report.households = count(database, "SELECT count(*) FROM household");
    report.entries = count(database, "SELECT count(*) FROM entry");
    report.voided = count(database, "SELECT count(*) FROM voided");
    check_records(database, report);
    return report;
  } catch (const SQLite::Exception& error) {
    throw StoreError(file.string() + " cannot be read through: " + error.what());
  }
}

}  // namespace cellarer::store
