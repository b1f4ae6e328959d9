// SPDX-License-Identifier: MIT
// What the records of the chain say of tables that change: accounts, and the stock that erased homes left behind.
#include <map>
#include <utility>

#include <nlohmann/json.hpp>

#include "server/store/access_rows.hpp"
#include "server/store/chain_faults.hpp"

namespace cellarer::store::chain {

namespace {

/// Whether the records of an account say that it has ended, by its id.
using Told = std::map<std::string, bool>;

/// Each record that says what an account may, held against the account; a journal's text is the agency's own matter.
Told check_records_of_accounts(SQLite::Database& database, const std::string& of, Faults& faults) {
  constexpr int first_of_account = 4;
  auto records =
      query_of(database,
               std::string("SELECT r.agency, r.number, r.subject, r.content, ") + access_rows::account_columns +
                   " FROM chain_record r LEFT JOIN account a ON a.id = r.subject "
                   "WHERE ?1 IN ('', r.agency) AND CASE WHEN r.action NOT LIKE 'agency.%' AND "
                   "json_valid(r.content) THEN json_type(r.content, '$.may') END = 'object' "
                   "ORDER BY r.agency, r.number",
               of);
  Told told;
  std::map<std::string, bool> named;
  while (records.executeStep()) {
    const auto agency = records.getColumn(0).getString(), id = records.getColumn(2).getString();
    const auto content = nlohmann::json::parse(records.getColumn(3).getString());
    const bool is_there = !records.getColumn(first_of_account).isNull();
    told[id] = told[id] || (content.contains("ended") && content["ended"] == true);
    if (is_there) {
      const auto account = access_rows::account_row(records, first_of_account);
      if (account.agency == agency && access_rows::what_it_may(account) == content["may"]) continue;
    }
    if (std::exchange(named[id], true)) continue;  // once an account, however often it signed in
    faults.add("account " + id + (is_there ? " was changed (" : " is missing (") +
               name_of_link(agency, records.getColumn(1).getInt64()) + ")");
  }
  return told;
}

}  // namespace

void check_accounts(SQLite::Database& database, const std::string& of, Faults& faults) {
  const Told told = check_records_of_accounts(database, of, faults);
  auto rows = query_of(
      database, std::string("SELECT ") + access_rows::account_columns + " FROM account a WHERE ?1 IN ('', a.agency)",
      of);
  while (rows.executeStep()) {
    const auto account = access_rows::account_row(rows);
    if (access_rows::is_erased(account)) continue;
    const auto record = told.find(account.id);
    if (record == told.end())
      faults.add("account " + account.id + " was inserted: no link stands for it");
    else if (record->second != account.ended_at.has_value())
      faults.add("account " + account.id + (record->second ? " was ended, and is open again" : " was ended by hand"));
  }
}

void check_erased_stock(SQLite::Database& database, const std::string& of, Faults& faults) {
  const std::string there =
      "SELECT agency, item, lot, received, used, discarded, unaccounted, left_behind FROM erased_stock";
  const std::string said = "SELECT * FROM said";
  auto differing = query_of(database,
                            "WITH said (agency, item, lot, received, used, discarded, unaccounted, left_behind) AS ("
                            "SELECT r.agency, s.value ->> 'item', s.value ->> 'lot', sum(s.value ->> 'received'), "
                            "sum(s.value ->> 'used'), sum(s.value ->> 'discarded'), sum(s.value ->> 'unaccounted'), "
                            "sum(s.value ->> 'left_behind') FROM chain_record r, "
                            "json_each(CASE WHEN json_valid(r.content) THEN r.content ELSE '{}' END, '$.stock') s "
                            "WHERE r.action IN ('erased', 'taken-over') GROUP BY 1, 2, 3) "
                            "SELECT agency, item, lot FROM (" +
                                there + " EXCEPT " + said +
                                ") WHERE ?1 IN ('', agency) UNION "
                                "SELECT agency, item, lot FROM (" +
                                said + " EXCEPT " + there + ") WHERE ?1 IN ('', agency) LIMIT 20",
                            of);
  while (differing.executeStep()) {
    const auto text = [&](int column) { return differing.getColumn(column).getString(); };
    faults.add("what erased homes of " + text(0) + " left of " + text(1) + ", lot " + text(2) +
               ", is not what their erasures say");
  }
}

}  // namespace cellarer::store::chain
