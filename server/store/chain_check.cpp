// SPDX-License-Identifier: MIT
// The chain computed anew, and compared with the rows that are there.
#include "server/household_key.hpp"
#include "server/store/chain.hpp"
#include "server/store/chain_faults.hpp"
#include "server/store/chain_rows.hpp"

namespace cellarer::store::chain {

namespace {

/// Links: without gap, each hash right. Rows of one agency come in the order of their numbers.
void check_links(SQLite::Database& database, const std::string& of, Faults& faults) {
  auto links = query_of(database,
                        "SELECT agency, number, content_hash, hash FROM chain_link WHERE ?1 IN ('', agency) "
                        "ORDER BY agency, number",
                        of);
  std::string agency;
  Head last;
  while (links.executeStep()) {
    const auto this_agency = links.getColumn(0).getString();
    const auto number = links.getColumn(1).getInt64();
    if (this_agency != agency) last = {};
    agency = this_agency;
    if (number != last.number + 1) {
      faults.add(name_of_link(agency, last.number + 1) + " is missing");
    } else if (link_hash(agency, number, fixed_bytes_of<32>(links.getColumn(2)), last.hash) !=
               fixed_bytes_of<32>(links.getColumn(3))) {
      faults.add(name_of_link(agency, number) + " was changed");
    }
    last = {number, fixed_bytes_of<32>(links.getColumn(3))};
  }
}

std::string household_name(SQLite::Database& database, std::int64_t id) {
  SQLite::Statement query(database, "SELECT reference FROM household WHERE id = ?");
  query.bind(1, id);
  return query.executeStep() ? query.getColumn(0).getString() : "number " + std::to_string(id) + " (not there)";
}

std::string name_of_row(SQLite::Database& database, std::int64_t household_id, std::int64_t entry) {
  const auto household = "household " + household_name(database, household_id);
  return entry == 0 ? household : "entry " + std::to_string(entry) + " of " + household;
}

/// Records: each agrees with its link, and the row that it stands for is there and as it was.
void check_records(SQLite::Database& database, const std::string& of, Faults& faults) {
  constexpr int first_of_household = 11, first_of_entry = first_of_household + 3, link_of_entry = first_of_entry + 8;
  auto records = query_of(database,
                          std::string("SELECT r.agency, r.number, r.at, r.who, r.action, r.subject, r.content, "
                                      "r.household_id, r.entry, r.salt, l.content_hash, ") +
                              household_columns + ", " + entry_columns +
                              ", e.link FROM chain_record r "
                              "LEFT JOIN chain_link l ON l.agency = r.agency AND l.number = r.number "
                              "LEFT JOIN household h ON h.id = r.household_id "
                              "LEFT JOIN entry e ON e.household_id = r.household_id AND e.number = r.entry "
                              "WHERE ?1 IN ('', r.agency) ORDER BY r.agency, r.number",
                          of);
  const auto text = [&](int column) { return records.getColumn(column).getString(); };
  while (records.executeStep()) {
    const auto link = name_of_link(text(0), records.getColumn(1).getInt64());
    Record record{records.getColumn(2).getInt64(),         text(3), text(4), text(5), text(6),
                  fixed_bytes_of<16>(records.getColumn(9))};
    const bool stands_for_row = !records.getColumn(8).isNull();
    const auto entry = records.getColumn(8).getInt64();
    const auto name = [&] {
      return stands_for_row ? name_of_row(database, records.getColumn(7).getInt64(), entry)
                            : "what " + link + " tells of";
    };
    if (stands_for_row) {
      if (records.getColumn(entry == 0 ? first_of_household : first_of_entry + 2).isNull()) {
        faults.add(name() + " is missing (" + link + ")");
        continue;
      }
      record.content =
          entry == 0 ? household_content(records, first_of_household) : entry_content(records, first_of_entry);
    }
    const bool other_link =
        stands_for_row && entry != 0 && records.getColumn(link_of_entry).getInt64() != records.getColumn(1).getInt64();
    if (records.getColumn(10).isNull())
      faults.add(link + " is missing, though its record is there");
    else if (other_link || hash_of(record) != fixed_bytes_of<32>(records.getColumn(10)))
      faults.add(name() + " was changed (" + link + ")");
  }
}

/// Links without a record: only an erasure leaves them, and its record names them.
void check_erased(SQLite::Database& database, const std::string& of, Faults& faults) {
  auto bare = query_of(database,
                       "SELECT agency, number FROM chain_link WHERE ?1 IN ('', agency) EXCEPT SELECT agency, number "
                       "FROM chain_record EXCEPT SELECT e.agency, l.value FROM chain_record e, "
                       "json_each(e.content, '$.links') l WHERE e.action = 'erased' LIMIT 20",
                       of);
  while (bare.executeStep()) {
    faults.add("what " + name_of_link(bare.getColumn(0).getString(), bare.getColumn(1).getInt64()) +
               " tells of is gone, and no erasure names it");
  }
}

/// Rows that no link stands for.
void check_rows(SQLite::Database& database, const std::string& of, Faults& faults) {
  SQLite::Statement rows(database,
                         "SELECT id, 0 FROM household UNION ALL SELECT household_id, number FROM entry EXCEPT "
                         "SELECT household_id, entry FROM chain_record WHERE household_id IS NOT NULL AND entry IS NOT "
                         "NULL");
  while (rows.executeStep()) {
    const auto household_id = rows.getColumn(0).getInt64();
    if (!of.empty() && agency_of(household_name(database, household_id)) != of) continue;
    faults.add(name_of_row(database, household_id, rows.getColumn(1).getInt64()) +
               " was inserted: no link stands for it");
  }
}

/// Each record of the journal has its row, of the same kind and subject, and each row its record.
void check_journal(SQLite::Database& database, const std::string& of, Faults& faults) {
  auto torn = query_of(database,
                       "SELECT r.agency, r.number FROM chain_record r LEFT JOIN agency_entry e ON e.agency = r.agency "
                       "AND e.number = r.number AND 'agency.' || e.kind = r.action AND e.subject = r.subject "
                       "WHERE ?1 IN ('', r.agency) AND r.action LIKE 'agency.%' AND e.number IS NULL "
                       "UNION SELECT e.agency, e.number FROM agency_entry e LEFT JOIN chain_record r ON "
                       "r.agency = e.agency AND r.number = e.number AND r.action = 'agency.' || e.kind "
                       "WHERE ?1 IN ('', e.agency) AND r.number IS NULL LIMIT 20",
                       of);
  while (torn.executeStep()) {
    faults.add("the journal's row of " + name_of_link(torn.getColumn(0).getString(), torn.getColumn(1).getInt64()) +
               " was changed, removed or inserted");
  }
}

/// One row, one link: a second one would be another's.
void check_doubles(SQLite::Database& database, const std::string& of, Faults& faults) {
  auto doubles = query_of(database,
                          "SELECT household_id, entry FROM chain_record WHERE entry IS NOT NULL AND ?1 IN ('', agency) "
                          "GROUP BY household_id, entry HAVING count(*) > 1 LIMIT 20",
                          of);
  while (doubles.executeStep()) {
    faults.add(name_of_row(database, doubles.getColumn(0).getInt64(), doubles.getColumn(1).getInt64()) +
               " has two links");
  }
}

}  // namespace

std::vector<std::string> faults(SQLite::Database& database, const std::string& agency) {
  Faults found;
  check_links(database, agency, found);
  check_records(database, agency, found);
  check_erased(database, agency, found);
  check_rows(database, agency, found);
  check_doubles(database, agency, found);
  check_journal(database, agency, found);
  check_accounts(database, agency, found);
  check_erased_stock(database, agency, found);
  return found.found;
}

}  // namespace cellarer::store::chain
