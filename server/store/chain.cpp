// SPDX-License-Identifier: MIT
#include "server/store/chain.hpp"

#include <limits>

#include "server/household_key.hpp"
#include "server/store/chain_rows.hpp"
#include "server/store/prepared.hpp"

namespace cellarer::store::chain {

namespace {

/// Where a record belongs.
struct Place {
  std::string agency;
  std::optional<std::int64_t> household_id, entry;
  bool holds_content = true;  ///< false: the row of the household or of the entry does
};

std::int64_t add(SQLite::Database& database, const Place& place, const Record& record) {
  const Head last = head(database, place.agency);
  const auto number = last.number + 1;
  const auto content = hash_of(record);
  Prepared kept_link(database, "INSERT INTO chain_link (agency, number, content_hash, hash) VALUES (?, ?, ?, ?)");
  SQLite::Statement& link = *kept_link;
  link.bind(1, place.agency);
  link.bind(2, number);
  bind_bytes(link, 3, content);
  bind_bytes(link, 4, link_hash(place.agency, number, content, last.hash));
  link.exec();
  Prepared kept_insert(database,
                       "INSERT INTO chain_record (agency, number, at, who, action, subject, content, household_id, "
                       "entry, salt) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
  SQLite::Statement& insert = *kept_insert;
  insert.bind(1, place.agency);
  insert.bind(2, number);
  insert.bind(3, record.at);
  insert.bind(4, record.who);
  insert.bind(5, record.action);
  insert.bind(6, record.subject);
  if (place.holds_content) insert.bind(7, record.content);
  if (place.household_id) insert.bind(8, *place.household_id);
  if (place.entry) insert.bind(9, *place.entry);
  bind_bytes(insert, 10, record.salt);
  insert.exec();
  return number;
}

std::optional<std::int64_t> id_of(SQLite::Database& database, const std::string& household) {
  if (household.empty()) return std::nullopt;
  SQLite::Statement query(database, "SELECT id FROM household WHERE reference = ?");
  query.bind(1, household);
  if (!query.executeStep()) return std::nullopt;
  return query.getColumn(0).getInt64();
}

/// For one that is there already.
void adopt_entry(SQLite::Database& database, std::int64_t household_id, std::int64_t number) {
  SQLite::Statement row(database, std::string("SELECT ") + entry_columns +
                                      " FROM entry e JOIN household h ON h.id = e.household_id "
                                      "WHERE e.household_id = ? AND e.number = ?");
  row.bind(1, household_id);
  row.bind(2, number);
  if (!row.executeStep()) throw StoreError("a link was to stand for an entry that is not there");
  add(database, {agency_of(row.getColumn(0).getString()), household_id, number, false},
      {row.getColumn(4).getInt64(), "", row.getColumn(1).getString(), std::to_string(number), entry_content(row, 0),
       new_salt()});
}

}  // namespace

std::int64_t append(SQLite::Database& database, const Event& event) {
  return add(database, {event.agency, id_of(database, event.household), std::nullopt, true},
             {event.at.time_since_epoch().count(), event.who, event.action, event.subject, event.content, new_salt()});
}

void append_household(SQLite::Database& database, std::int64_t household_id, const std::string& account) {
  SQLite::Statement row(database, std::string("SELECT ") + household_columns + " FROM household h WHERE h.id = ?");
  row.bind(1, household_id);
  if (!row.executeStep()) throw StoreError("a link was to stand for a household that is not there");
  add(database, {agency_of(row.getColumn(0).getString()), household_id, 0, false},
      {row.getColumn(2).getInt64(), account, "household", "", household_content(row, 0), new_salt()});
}

std::int64_t append_entry(SQLite::Database& database, const EntryOf& of, const StoredEntry& entry) {
  return add(database, {agency_of(of.household), of.household_id, entry.number, false},
             {entry.recorded_at.time_since_epoch().count(), of.account, entry.kind, std::to_string(entry.number),
              entry_content(of.household, entry), new_salt()});
}

void adopt(SQLite::Database& database) {
  SQLite::Statement rows(database,
                         "SELECT id, 0, created_at FROM household UNION ALL "
                         "SELECT household_id, number, recorded_at FROM entry ORDER BY 3, 1, 2");
  while (rows.executeStep()) {
    const auto household_id = rows.getColumn(0).getInt64(), entry = rows.getColumn(1).getInt64();
    if (entry == 0)
      append_household(database, household_id, "");
    else
      adopt_entry(database, household_id, entry);
  }
}

Head head(SQLite::Database& database, const std::string& agency) {
  Prepared kept_query(database, "SELECT number, hash FROM chain_link WHERE agency = ? ORDER BY number DESC LIMIT 1");
  SQLite::Statement& query = *kept_query;
  query.bind(1, agency);
  if (!query.executeStep()) return {};
  return {query.getColumn(0).getInt64(), fixed_bytes_of<32>(query.getColumn(1))};
}

std::vector<AuditLink> links(SQLite::Database& database, const std::string& agency, std::optional<std::int64_t> before,
                             std::size_t limit) {
  SQLite::Statement query(database,
                          "SELECT l.number, l.content_hash, l.hash, r.at, r.who, r.action, r.subject, h.reference "
                          "FROM chain_link l LEFT JOIN chain_record r ON r.agency = l.agency AND r.number = l.number "
                          "LEFT JOIN household h ON h.id = r.household_id "
                          "WHERE l.agency = ? AND l.number < ? ORDER BY l.number DESC LIMIT ?");
  query.bind(1, agency);
  query.bind(2, before.value_or(std::numeric_limits<std::int64_t>::max()));
  query.bind(3, static_cast<std::int64_t>(limit));
  std::vector<AuditLink> found;
  while (query.executeStep()) {
    const auto text = [&](int column) { return query.getColumn(column).getString(); };
    found.push_back({query.getColumn(0).getInt64(), hex(fixed_bytes_of<32>(query.getColumn(1))),
                     hex(fixed_bytes_of<32>(query.getColumn(2))), query.getColumn(3).isNull(),
                     Instant(std::chrono::seconds(query.getColumn(3).getInt64())), text(4), text(5), text(6), text(7)});
  }
  return found;
}

std::optional<std::string> newest_content(SQLite::Database& database, const std::string& agency,
                                          const std::string& action, Instant until) {
  SQLite::Statement query(database,
                          "SELECT content FROM chain_record WHERE agency = ? AND action = ? AND at <= ? "
                          "ORDER BY number DESC LIMIT 1");
  query.bind(1, agency);
  query.bind(2, action);
  query.bind(3, static_cast<std::int64_t>(until.time_since_epoch().count()));
  if (!query.executeStep()) return std::nullopt;
  return query.getColumn(0).getString();
}

}  // namespace cellarer::store::chain
