// SPDX-License-Identifier: MIT
#include "server/store/maintenance.hpp"

#include <SQLiteCpp/Exception.h>
#include <SQLiteCpp/Statement.h>
#include <SQLiteCpp/Transaction.h>

#include "server/store/chain.hpp"
#include "server/store/files.hpp"
#include "server/store/migrations.hpp"
#include "server/store/sqlite_store.hpp"

namespace cellarer::store {

namespace {

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
  const auto false_marks = count(database,
                                 "SELECT count(*) FROM voided v WHERE NOT EXISTS (SELECT 1 FROM entry e WHERE "
                                 "e.household_id = v.household_id AND e.number = v.voided_by AND e.voids = v.number)");
  if (false_marks > 0) report.faults.push_back(std::to_string(false_marks) + " entries are marked void by none");
}

std::vector<std::string> heads(SQLite::Database& database) {
  std::vector<std::string> all;
  SQLite::Statement query(database, "SELECT DISTINCT agency FROM chain_link ORDER BY agency");
  while (query.executeStep()) {
    const auto agency = query.getColumn(0).getString();
    const auto head = chain::head(database, agency);
    all.push_back(agency + " " + std::to_string(head.number) + " " + chain::hex(head.hash));
  }
  return all;
}

}  // namespace

void backup(const std::filesystem::path& from, const std::filesystem::path& to) {
  if (std::filesystem::exists(to)) throw StoreError(to.string() + " is there already: name a new file");
  auto database = open_present(from);
  copy_database(database, to);
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
  copy_database(database, to);
}

Report check(const std::filesystem::path& file) {
  auto database = open_present(file);
  try {
    const SQLite::Transaction one_moment(database);  // a service may be writing
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
    if (report.schema == newest_schema()) {
      report.heads = heads(database);
      for (auto& fault : chain::faults(database)) report.faults.push_back(std::move(fault));
    }
    return report;
  } catch (const SQLite::Exception& error) {
    throw StoreError(file.string() + " cannot be read through: " + error.what());
  }
}

}  // namespace cellarer::store
