// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>

/// What the parts of the chain's check share: links and rows (chain_check.cpp), and what the records say of other
/// tables (chain_claims.cpp).
namespace cellarer::store::chain {

inline constexpr std::size_t most_faults = 20;

struct Faults {
  std::vector<std::string> found;
  void add(const std::string& sentence) {
    if (found.size() < most_faults) found.push_back(sentence);
  }
};

inline std::string name_of_link(const std::string& agency, std::int64_t number) {
  return "link " + std::to_string(number) + " of the chain of " + agency;
}

/// Of one agency, or (empty) of all.
inline SQLite::Statement query_of(SQLite::Database& database, const std::string& text, const std::string& agency) {
  SQLite::Statement query(database, text);
  query.bind(1, agency);
  return query;
}

/// Accounts: each is as all its records say, and there is none without a record, or record without one.
void check_accounts(SQLite::Database& database, const std::string& of, Faults& faults);
/// What erased homes left is the sum of what their erasures say.
void check_erased_stock(SQLite::Database& database, const std::string& of, Faults& faults);

}  // namespace cellarer::store::chain
