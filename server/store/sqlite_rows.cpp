// SPDX-License-Identifier: MIT
#include "server/store/sqlite_rows.hpp"

#include <limits>

#include <SQLiteCpp/Statement.h>

#include "server/store/chain.hpp"
#include "server/store/prepared.hpp"

namespace cellarer::store::rows {

namespace {

const std::string entry_columns =
    "SELECT e.number, e.kind, e.at, e.recorded_at, e.who, e.body, e.voids, v.voided_by FROM entry e "
    "LEFT JOIN voided v ON v.household_id = e.household_id AND v.number = e.number ";

Instant instant(std::int64_t seconds) { return Instant(std::chrono::seconds(seconds)); }
std::int64_t seconds(Instant at) { return at.time_since_epoch().count(); }

std::optional<std::int64_t> optional_number(const SQLite::Column& column) {
  if (column.isNull()) return std::nullopt;
  return column.getInt64();
}

StoredHousehold household_row(SQLite::Statement& row) {
  return {row.getColumn(0).getString(), row.getColumn(1).getString(), instant(row.getColumn(2).getInt64()),
          row.getColumn(3).getInt64()};
}

StoredEntry entry_row(SQLite::Statement& row) {
  return {row.getColumn(0).getInt64(),          row.getColumn(1).getString(),     instant(row.getColumn(2).getInt64()),
          instant(row.getColumn(3).getInt64()), row.getColumn(4).getString(),     row.getColumn(5).getString(),
          optional_number(row.getColumn(6)),    optional_number(row.getColumn(7))};
}

std::vector<StoredEntry> all_entries(SQLite::Statement& query) {
  std::vector<StoredEntry> found;
  while (query.executeStep()) found.push_back(entry_row(query));
  return found;
}

std::optional<std::int64_t> household_id(SQLite::Database& database, const std::string& reference) {
  Prepared kept_query(database, "SELECT id FROM household WHERE reference = ?");
  SQLite::Statement& query = *kept_query;
  query.bind(1, reference);
  if (!query.executeStep()) return std::nullopt;
  return query.getColumn(0).getInt64();
}

/// What a key was used for: the entry's number, or for household 0 the id of the household made with it.
std::optional<std::int64_t> used_for(SQLite::Database& database, std::int64_t household, const std::string& key) {
  Prepared kept_query(database, "SELECT number FROM idempotency WHERE household_id = ? AND key = ?");
  SQLite::Statement& query = *kept_query;
  query.bind(1, household);
  query.bind(2, key);
  if (!query.executeStep()) return std::nullopt;
  return query.getColumn(0).getInt64();
}

/// Whether the key is new; one that was used before stays as it was.
bool note_key(SQLite::Database& database, std::int64_t household, const std::string& key, std::int64_t number) {
  Prepared kept_insert(database,
                       "INSERT INTO idempotency (household_id, key, number) VALUES (?, ?, ?) "
                       "ON CONFLICT DO NOTHING");
  SQLite::Statement& insert = *kept_insert;
  insert.bind(1, household);
  insert.bind(2, key);
  insert.bind(3, number);
  return insert.exec() == 1;
}

struct Counted {
  std::int64_t household, last_entry;
};

std::optional<Counted> counted(SQLite::Database& database, const std::string& reference) {
  Prepared kept_query(database, "SELECT id, last_entry FROM household WHERE reference = ?");
  SQLite::Statement& query = *kept_query;
  query.bind(1, reference);
  if (!query.executeStep()) return std::nullopt;
  return Counted{query.getColumn(0).getInt64(), query.getColumn(1).getInt64()};
}

void count_to(SQLite::Database& database, std::int64_t household, std::int64_t number) {
  Prepared kept_count(database, "UPDATE household SET last_entry = ? WHERE id = ?");
  SQLite::Statement& count = *kept_count;
  count.bind(1, number);
  count.bind(2, household);
  count.exec();
}

/// What an entry is answered that comes under a key of before.
EntryWritten as_then(SQLite::Database& database, std::int64_t household, const NewEntry& wanted) {
  const auto then = entry(database, wanted.household, used_for(database, household, wanted.key).value()).value();
  const bool same = then.kind == wanted.kind && then.body == wanted.body;
  return {same ? Outcome::repeated : Outcome::key_reused, then};
}

void insert_entry(SQLite::Database& database, std::int64_t household, const StoredEntry& entry, std::int64_t link) {
  Prepared kept_insert(database,
                       "INSERT INTO entry (household_id, number, kind, at, recorded_at, who, body, voids, link) "
                       "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)");
  SQLite::Statement& insert = *kept_insert;
  insert.bind(1, household);
  insert.bind(2, entry.number);
  insert.bind(3, entry.kind);
  insert.bind(4, seconds(entry.at));
  insert.bind(5, seconds(entry.recorded_at));
  insert.bind(6, entry.who);
  insert.bind(7, entry.body);
  if (entry.voids) insert.bind(8, *entry.voids);
  insert.bind(9, link);
  insert.exec();
  if (!entry.voids) return;
  Prepared kept_mark(database, "INSERT INTO voided (household_id, number, voided_by) VALUES (?, ?, ?)");
  SQLite::Statement& mark = *kept_mark;
  mark.bind(1, household);
  mark.bind(2, *entry.voids);
  mark.bind(3, entry.number);
  mark.exec();
}

}  // namespace

std::optional<StoredHousehold> household(SQLite::Database& database, const std::string& reference) {
  Prepared kept_query(database,
                      "SELECT reference, document, created_at, last_entry FROM household WHERE reference = ?");
  SQLite::Statement& query = *kept_query;
  query.bind(1, reference);
  if (!query.executeStep()) return std::nullopt;
  return household_row(query);
}

std::vector<StoredHousehold> households(SQLite::Database& database, const std::string& after, std::size_t limit) {
  Prepared kept_query(database,
                      "SELECT reference, document, created_at, last_entry FROM household "
                      "WHERE reference > ? ORDER BY reference LIMIT ?");
  SQLite::Statement& query = *kept_query;
  query.bind(1, after);
  query.bind(2, static_cast<std::int64_t>(limit));
  std::vector<StoredHousehold> found;
  while (query.executeStep()) found.push_back(household_row(query));
  return found;
}

std::vector<StoredEntry> entries(SQLite::Database& database, const std::string& household) {
  const auto id = household_id(database, household);
  if (!id) return {};
  Prepared kept_query(database, entry_columns + "WHERE e.household_id = ? ORDER BY e.number");
  SQLite::Statement& query = *kept_query;
  query.bind(1, *id);
  return all_entries(query);
}

std::vector<StoredEntry> newest_entries(SQLite::Database& database, const std::string& household,
                                        std::optional<std::int64_t> before, std::size_t limit) {
  const auto id = household_id(database, household);
  if (!id) return {};
  Prepared kept_query(database,
                      entry_columns + "WHERE e.household_id = ? AND e.number < ? ORDER BY e.number DESC LIMIT ?");
  SQLite::Statement& query = *kept_query;
  query.bind(1, *id);
  query.bind(2, before.value_or(std::numeric_limits<std::int64_t>::max()));
  query.bind(3, static_cast<std::int64_t>(limit));
  return all_entries(query);
}

std::optional<StoredEntry> entry(SQLite::Database& database, const std::string& household, std::int64_t number) {
  const auto id = household_id(database, household);
  if (!id) return std::nullopt;
  Prepared kept_query(database, entry_columns + "WHERE e.household_id = ? AND e.number = ?");
  SQLite::Statement& query = *kept_query;
  query.bind(1, *id);
  query.bind(2, number);
  if (!query.executeStep()) return std::nullopt;
  return entry_row(query);
}

std::optional<LaterRecord> recorded_after(SQLite::Database& database, Instant now) {
  SQLite::Statement query(database,
                          "SELECT h.reference, e.number, e.recorded_at FROM entry e JOIN household h ON h.id = "
                          "e.household_id WHERE e.recorded_at > ? AND e.voids IS NULL AND NOT EXISTS (SELECT 1 FROM "
                          "voided v WHERE v.household_id = e.household_id AND v.number = e.number) "
                          "ORDER BY e.recorded_at DESC LIMIT 1");
  query.bind(1, seconds(now));
  if (!query.executeStep()) return std::nullopt;
  return LaterRecord{query.getColumn(0).getString(), query.getColumn(1).getInt64(),
                     instant(query.getColumn(2).getInt64())};
}

HouseholdWritten create_household(SQLite::Database& database, const NewHousehold& wanted) {
  if (const auto used = used_for(database, 0, wanted.key)) {
    SQLite::Statement query(database, "SELECT reference, document, created_at, last_entry FROM household WHERE id = ?");
    query.bind(1, *used);
    query.executeStep();
    const auto then = household_row(query);
    const bool same = then.reference == wanted.reference && then.document == wanted.document;
    return {same ? Outcome::repeated : Outcome::key_reused, then};
  }
  if (const auto there = household(database, wanted.reference)) return {Outcome::household_exists, *there};
  SQLite::Statement insert(database, "INSERT INTO household (reference, document, created_at) VALUES (?, ?, ?)");
  insert.bind(1, wanted.reference);
  insert.bind(2, wanted.document);
  insert.bind(3, seconds(wanted.recorded_at));
  insert.exec();
  const auto id = database.getLastInsertRowid();
  note_key(database, 0, wanted.key, id);
  chain::append_household(database, id, wanted.account);
  return {Outcome::stored, {wanted.reference, wanted.document, wanted.recorded_at, 0}};
}

EntryWritten append(SQLite::Database& database, const NewEntry& wanted) {
  const auto there = counted(database, wanted.household);
  if (!there) return {Outcome::unknown_household, {}};
  if (wanted.voids) {
    if (used_for(database, there->household, wanted.key)) return as_then(database, there->household, wanted);
    const auto target = entry(database, wanted.household, *wanted.voids);
    if (!target) return {Outcome::unknown_entry, {}};
    if (target->voided_by) return {Outcome::already_voided, *target};
  }
  const auto number = there->last_entry + 1;
  if (!note_key(database, there->household, wanted.key, number)) return as_then(database, there->household, wanted);
  const StoredEntry stored{number,     wanted.kind, wanted.at,    wanted.recorded_at,
                           wanted.who, wanted.body, wanted.voids, std::nullopt};
  count_to(database, there->household, number);
  const auto link = chain::append_entry(database, {there->household, wanted.household, wanted.account}, stored);
  insert_entry(database, there->household, stored, link);
  return {Outcome::stored, stored};
}

}  // namespace cellarer::store::rows
