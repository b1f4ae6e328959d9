// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json_fwd.hpp>

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>

#include "server/store/access_store.hpp"

/// What the parts of the SQLite access store share: binding by position in order, rows, and the steps that several
/// transactions are made of.
namespace cellarer::store::access_rows {

/// Bytes, not text.
struct Blob {
  const std::string& bytes;
};

void bind(SQLite::Statement& statement, int at, const std::string& text);
void bind(SQLite::Statement& statement, int at, const char* text);
void bind(SQLite::Statement& statement, int at, std::int64_t number);
void bind(SQLite::Statement& statement, int at, Instant instant);
void bind(SQLite::Statement& statement, int at, Blob blob);
template <class Value>
void bind(SQLite::Statement& statement, int at, const std::optional<Value>& value) {
  if (value) bind(statement, at, *value);  // unbound is NULL
}

/// Runs a statement with its values in order; the number of rows it changed.
template <class... Values>
int run(SQLite::Database& database, const char* sql, const Values&... values) {
  SQLite::Statement statement(database, sql);
  int at = 0;
  (bind(statement, ++at, values), ...);
  return statement.exec();
}

/// All rows of a query, each made by `row`.
template <class Row, class... Values>
auto rows_of(SQLite::Database& database, const std::string& sql, const Row& row, const Values&... values) {
  SQLite::Statement statement(database, sql);
  int at = 0;
  (bind(statement, ++at, values), ...);
  std::vector<decltype(row(statement))> found;
  while (statement.executeStep()) found.push_back(row(statement));
  return found;
}

template <class Row, class... Values>
auto row_of(SQLite::Database& database, const std::string& sql, const Row& row, const Values&... values) {
  auto found = rows_of(database, sql, row, values...);
  using One = typename decltype(found)::value_type;
  return found.empty() ? std::optional<One>() : std::optional<One>(std::move(found.front()));
}

Instant instant_of(SQLite::Column column);
std::optional<Instant> optional_instant(SQLite::Column column);
std::string bytes_of(SQLite::Column column);

/// "a.id, a.agency, ..." of `account a`, and the row that begins at column `from`.
extern const char* const account_columns;
constexpr int account_width = 14;
StoredAccount account_row(SQLite::Statement& row, int from = 0);

/// "s.id, ..." of `session s`.
extern const char* const session_columns;
constexpr int session_width = 12;
StoredSession session_row(SQLite::Statement& row, int from = 0);

/// The value that marks what changes now.
std::int64_t next_version(SQLite::Database& database);

std::optional<StoredAccount> account(SQLite::Database& database, const std::string& id);
void insert_account(SQLite::Database& database, const StoredAccount& account);
/// Stores the session of an account that has not ended; none where it has.
std::optional<SessionRow> insert_session(SQLite::Database& database, StoredSession session);
/// Ends the passkeys, codes and sessions of an account that goes on.
void end_keys(SQLite::Database& database, const std::string& account, const Done& done, const std::string& why);
bool end_account(SQLite::Database& database, const std::string& id, const std::string& why, const Done& done);

/// Ends the phones of a household that is erased, and forgets their labels and whose they were. What is left of them
/// tells their sessions why they ended.
void erase_phones(SQLite::Database& database, const std::string& household, const Done& done);

void insert_passkey(SQLite::Database& database, const StoredPasskey& passkey);
void insert_recovery_code(SQLite::Database& database, const StoredRecoveryCode& code);

/// The agency's record of what was done: "invited", "bound", "signed-in", "ended". It says what the account may, and
/// whether it has ended, so that the trail shows an account that was changed by hand (chain_claims.cpp).
void note_event(SQLite::Database& database, const std::string& account, const Done& done, const char* action,
                const std::string& why = "");
/// What never changes of an account from the invitation on: its role, its household, a guest's hours and end. JSON.
nlohmann::json what_it_may(const StoredAccount& account);
/// A record for each account from before its records said that.
void take_over_accounts(SQLite::Database& database, Instant at);
/// An account whose household was erased: nothing is known of it any more, and it has ended.
bool is_erased(const StoredAccount& account);

}  // namespace cellarer::store::access_rows
