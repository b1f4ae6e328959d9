// SPDX-License-Identifier: MIT
#include "server/store/agency_rows.hpp"

#include <SQLiteCpp/Statement.h>

#include "server/store/chain.hpp"
#include "server/store/sqlite_rows.hpp"

namespace cellarer::store::rows {

namespace {

constexpr const char* columns =
    "SELECT e.number, e.kind, e.subject, r.at, r.who, r.content FROM agency_entry e "
    "JOIN chain_record r ON r.agency = e.agency AND r.number = e.number WHERE e.agency = ?1 AND ";

StoredAgencyEntry row_of(SQLite::Statement& row) {
  return {row.getColumn(0).getInt64(),  row.getColumn(1).getString(),
          row.getColumn(2).getString(), Instant(std::chrono::seconds(row.getColumn(3).getInt64())),
          row.getColumn(4).getString(), row.getColumn(5).getString()};
}

std::optional<StoredAgencyEntry> under_key(SQLite::Database& database, const NewAgencyEntry& wanted) {
  SQLite::Statement query(database, std::string(columns) + "e.key = ?2");
  query.bind(1, wanted.agency);
  query.bind(2, wanted.key);
  if (!query.executeStep()) return std::nullopt;
  return row_of(query);
}

/// Number 0: there is none of this kind and subject.
StoredAgencyEntry newest_like(SQLite::Database& database, const NewAgencyEntry& wanted) {
  SQLite::Statement query(database,
                          std::string(columns) + "e.kind = ?2 AND e.subject = ?3 ORDER BY e.number DESC LIMIT 1");
  query.bind(1, wanted.agency);
  query.bind(2, wanted.kind);
  query.bind(3, wanted.subject);
  if (!query.executeStep()) return {};
  return row_of(query);
}

}  // namespace

AgencyEntryWritten append(SQLite::Database& database, const NewAgencyEntry& wanted) {
  if (const auto then = under_key(database, wanted)) {
    const bool same = then->kind == wanted.kind && then->subject == wanted.subject && then->body == wanted.body;
    return {same ? Outcome::repeated : Outcome::key_reused, *then};
  }
  if (wanted.follows) {
    const auto newest = newest_like(database, wanted);
    if (newest.number != *wanted.follows) return {Outcome::outdated, newest};
  }
  const auto number = chain::append(database, {wanted.agency, wanted.recorded_at, wanted.account,
                                               journal_action + wanted.kind, wanted.subject, wanted.body});
  SQLite::Statement insert(database,
                           "INSERT INTO agency_entry (agency, number, kind, subject, key) VALUES (?, ?, ?, ?, ?)");
  insert.bind(1, wanted.agency);
  insert.bind(2, number);
  insert.bind(3, wanted.kind);
  insert.bind(4, wanted.subject);
  insert.bind(5, wanted.key);
  insert.exec();
  return {Outcome::stored, {number, wanted.kind, wanted.subject, wanted.recorded_at, wanted.account, wanted.body}};
}

std::vector<StoredAgencyEntry> agency_entries(SQLite::Database& database, const std::string& agency,
                                              std::int64_t after) {
  SQLite::Statement query(database, std::string(columns) + "e.number > ?2 ORDER BY e.number");
  query.bind(1, agency);
  query.bind(2, after);
  std::vector<StoredAgencyEntry> found;
  while (query.executeStep()) found.push_back(row_of(query));
  return found;
}

BatchWritten write_together(SQLite::Database& database, const Batch& batch) {
  BatchWritten written;
  const auto keep = [&](Outcome outcome) {
    written.outcome = outcome;
    if (!is_kept(outcome)) return false;
    ++written.failed;
    return true;
  };
  for (const auto& household : batch.households) {
    if (!keep(create_household(database, household).outcome)) return written;
  }
  for (const auto& entry : batch.entries) {
    if (!keep(append(database, entry).outcome)) return written;
  }
  for (const auto& entry : batch.agency_entries) {
    if (!keep(append(database, entry).outcome)) return written;
  }
  written.outcome = Outcome::stored;
  return written;
}

}  // namespace cellarer::store::rows
