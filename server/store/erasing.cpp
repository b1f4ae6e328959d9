// SPDX-License-Identifier: MIT
#include "server/store/erasing.hpp"

#include <algorithm>

#include <nlohmann/json.hpp>

#include <SQLiteCpp/Statement.h>

#include "server/household_key.hpp"
#include "server/store/access_rows.hpp"
#include "server/store/chain.hpp"
#include "server/store/sqlite_reminder_store.hpp"

namespace cellarer::store::rows {

namespace {

/// Rows deleted.
std::int64_t remove(SQLite::Database& database, const char* statement, std::int64_t household_id) {
  SQLite::Statement deletion(database, statement);
  deletion.bind(1, household_id);
  return deletion.exec();
}

std::vector<std::int64_t> numbers(SQLite::Database& database, const char* query, const std::string& agency,
                                  std::int64_t household_id) {
  std::vector<std::int64_t> found;
  SQLite::Statement rows(database, query);
  rows.bind(1, household_id);
  if (rows.getBindParameterCount() > 1) rows.bind(2, agency);
  while (rows.executeStep()) found.push_back(rows.getColumn(0).getInt64());
  return found;
}

/// The links that will have lost their record; the erasure names them, so that a record removed by hand is told apart.
struct Losing {
  std::vector<std::int64_t> links;
  bool all_named = true;  ///< each entry names its own; otherwise they were changed by hand
};

Losing losing(SQLite::Database& database, const std::string& agency, std::int64_t household_id, std::int64_t entries) {
  auto links = numbers(database,
                       "SELECT r.number FROM entry e JOIN chain_record r ON r.agency = ?2 AND r.number = e.link AND "
                       "r.household_id = ?1 AND r.entry = e.number WHERE e.household_id = ?1",
                       agency, household_id);
  if (static_cast<std::int64_t>(links.size()) != entries) {
    links = numbers(database, "SELECT number FROM chain_record WHERE household_id = ?1 ORDER BY number", agency,
                    household_id);
    return {links, false};
  }
  const auto others =
      numbers(database, "SELECT number FROM chain_record WHERE household_id = ?1 AND coalesce(entry, 0) = 0", agency,
              household_id);
  links.insert(links.end(), others.begin(), others.end());
  std::sort(links.begin(), links.end());
  return {links};
}

/// One by one, as only an entry knows where its record is; where that cannot be relied on, by looking through all.
void remove_records(SQLite::Database& database, const std::string& agency, std::int64_t household_id,
                    const Losing& losing) {
  if (!losing.all_named) {
    remove(database, "DELETE FROM chain_record WHERE household_id = ?", household_id);
    return;
  }
  SQLite::Statement deletion(database, "DELETE FROM chain_record WHERE agency = ? AND number = ? AND household_id = ?");
  for (const auto number : losing.links) {
    deletion.bind(1, agency);
    deletion.bind(2, number);
    deletion.bind(3, household_id);
    deletion.exec();
    deletion.reset();
  }
}

/// Phones and all by which they came in; nobody of an erased household comes back.
void remove_access(SQLite::Database& database, const std::string& household) {
  for (const char* statement :
       {"DELETE FROM passkey WHERE account IN (SELECT id FROM account WHERE household = ?1)",
        "DELETE FROM session WHERE account IN (SELECT id FROM account WHERE household = ?1)",
        "DELETE FROM invitation WHERE account IN (SELECT id FROM account WHERE household = ?1)",
        "DELETE FROM recovery_code WHERE household = ?1", "DELETE FROM account WHERE household = ?1"}) {
    SQLite::Statement deletion(database, statement);
    deletion.bind(1, household);
    deletion.exec();
  }
}

void leave_stock(SQLite::Database& database, const std::string& agency, const ErasedStock& stock) {
  SQLite::Statement add(database,
                        "INSERT INTO erased_stock (agency, item, lot, received, used, discarded, unaccounted, "
                        "left_behind) VALUES (?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO UPDATE SET "
                        "received = received + excluded.received, used = used + excluded.used, "
                        "discarded = discarded + excluded.discarded, unaccounted = unaccounted + excluded.unaccounted, "
                        "left_behind = left_behind + excluded.left_behind");
  add.bind(1, agency);
  add.bind(2, stock.item);
  add.bind(3, stock.lot);
  add.bind(4, stock.received);
  add.bind(5, stock.used);
  add.bind(6, stock.discarded);
  add.bind(7, stock.unaccounted);
  add.bind(8, stock.left_behind);
  add.exec();
}

nlohmann::json lines_of(const std::vector<ErasedStock>& stock) {
  auto lines = nlohmann::json::array();
  for (const auto& line : stock) {
    lines.push_back({{"item", line.item},
                     {"lot", line.lot},
                     {"received", line.received},
                     {"used", line.used},
                     {"discarded", line.discarded},
                     {"unaccounted", line.unaccounted},
                     {"left_behind", line.left_behind}});
  }
  return lines;
}

}  // namespace

ErasedHousehold erase(SQLite::Database& database, const Erasure& erasure) {
  SQLite::Statement query(database, "SELECT id, last_entry FROM household WHERE reference = ?");
  query.bind(1, erasure.household);
  if (!query.executeStep()) return {Outcome::unknown_household};
  const auto id = query.getColumn(0).getInt64();
  if (query.getColumn(1).getInt64() != erasure.last_entry) return {Outcome::more_was_recorded};
  query.reset();

  erase_reminders(database, erasure.household);
  access_rows::erase_phones(database, erasure.household, {erasure.account, erasure.at});
  const auto agency = agency_of(erasure.household);
  const auto lost = losing(database, agency, id, erasure.last_entry);
  ErasedHousehold erased;
  erased.links = static_cast<std::int64_t>(lost.links.size());
  remove_records(database, agency, id, lost);
  remove(database, "DELETE FROM voided WHERE household_id = ?", id);
  erased.entries = remove(database, "DELETE FROM entry WHERE household_id = ?", id);
  remove(database, "DELETE FROM idempotency WHERE household_id = ?", id);
  remove(database, "DELETE FROM idempotency WHERE household_id = 0 AND number = ?", id);
  remove_access(database, erasure.household);
  remove(database, "DELETE FROM household WHERE id = ?", id);
  for (const auto& stock : erasure.stock) leave_stock(database, agency, stock);
  const nlohmann::json content{{"entries", erased.entries}, {"links", lost.links}, {"stock", lines_of(erasure.stock)}};
  chain::append(database, {agency, erasure.at, erasure.account, "erased", "household", content.dump()});
  return erased;
}

std::vector<ErasedStock> erased_stock(SQLite::Database& database, const std::string& agency) {
  SQLite::Statement query(database,
                          "SELECT item, lot, received, used, discarded, unaccounted, left_behind FROM erased_stock "
                          "WHERE agency = ? ORDER BY item, lot");
  query.bind(1, agency);
  std::vector<ErasedStock> found;
  while (query.executeStep()) {
    const auto number = [&](int column) { return query.getColumn(column).getInt64(); };
    found.push_back({query.getColumn(0).getString(), query.getColumn(1).getString(), number(2), number(3), number(4),
                     number(5), number(6)});
  }
  return found;
}

void take_over_erased_stock(SQLite::Database& database, Instant at) {
  std::vector<std::string> agencies;
  SQLite::Statement query(database, "SELECT DISTINCT agency FROM erased_stock ORDER BY agency");
  while (query.executeStep()) agencies.push_back(query.getColumn(0).getString());
  for (const auto& agency : agencies) {
    const nlohmann::json content{{"stock", lines_of(erased_stock(database, agency))}};
    chain::append(database, {agency, at, "", "taken-over", "erased-stock", content.dump()});
  }
}

}  // namespace cellarer::store::rows
