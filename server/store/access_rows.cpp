// SPDX-License-Identifier: MIT
#include "server/store/access_rows.hpp"

#include <nlohmann/json.hpp>

#include "server/store/chain.hpp"
#include "server/store/sqlite_reminder_store.hpp"

namespace cellarer::store::access_rows {

const char* const account_columns =
    "a.id, a.agency, a.household, a.role, a.label, a.hours_from, a.hours_to, a.zone, a.until, a.created_at, "
    "a.bound_at, "
    "a.recovery_used_at, a.ended_at, a.ended_why";

const char* const session_columns =
    "s.id, s.account, s.token_hash, s.previous_hash, s.previous_until, s.signed_in_at, s.rotated_at, s.last_seen_at, "
    "s.expires_at, s.ended_at, s.ended_why, s.changed";

void bind(SQLite::Statement& statement, int at, const std::string& text) { statement.bind(at, text); }
void bind(SQLite::Statement& statement, int at, const char* text) { statement.bind(at, text); }
void bind(SQLite::Statement& statement, int at, std::int64_t number) { statement.bind(at, number); }
void bind(SQLite::Statement& statement, int at, Instant instant) {
  statement.bind(at, static_cast<std::int64_t>(instant.time_since_epoch().count()));
}
void bind(SQLite::Statement& statement, int at, Blob blob) {
  if (!blob.bytes.empty()) statement.bind(at, blob.bytes.data(), static_cast<int>(blob.bytes.size()));
}

Instant instant_of(SQLite::Column column) { return Instant(std::chrono::seconds(column.getInt64())); }

std::optional<Instant> optional_instant(SQLite::Column column) {
  if (column.isNull()) return std::nullopt;
  return instant_of(column);
}

std::string bytes_of(SQLite::Column column) {
  const auto* bytes = static_cast<const char*>(column.getBlob());
  return bytes == nullptr ? std::string() : std::string(bytes, static_cast<std::size_t>(column.getBytes()));
}

StoredAccount account_row(SQLite::Statement& row, int from) {
  const auto text = [&](int at) { return row.getColumn(from + at).getString(); };
  StoredAccount account;
  account.id = text(0);
  account.agency = text(1);
  account.household = text(2);
  account.role = text(3);
  account.label = text(4);
  if (!row.getColumn(from + 5).isNull()) {
    account.hours = StoredAccount::Hours{row.getColumn(from + 5).getInt(), row.getColumn(from + 6).getInt()};
  }
  account.zone = text(7);
  account.until = optional_instant(row.getColumn(from + 8));
  account.created_at = instant_of(row.getColumn(from + 9));
  account.bound_at = optional_instant(row.getColumn(from + 10));
  account.recovery_used_at = optional_instant(row.getColumn(from + 11));
  account.ended_at = optional_instant(row.getColumn(from + 12));
  account.ended_why = text(13);
  return account;
}

StoredSession session_row(SQLite::Statement& row, int from) {
  StoredSession session;
  session.id = row.getColumn(from).getString();
  session.account = row.getColumn(from + 1).getString();
  session.token_hash = bytes_of(row.getColumn(from + 2));
  session.previous_hash = bytes_of(row.getColumn(from + 3));
  session.previous_until = optional_instant(row.getColumn(from + 4));
  session.signed_in_at = instant_of(row.getColumn(from + 5));
  session.rotated_at = instant_of(row.getColumn(from + 6));
  session.last_seen_at = instant_of(row.getColumn(from + 7));
  session.expires_at = instant_of(row.getColumn(from + 8));
  session.ended_at = optional_instant(row.getColumn(from + 9));
  session.ended_why = row.getColumn(from + 10).getString();
  session.changed = row.getColumn(from + 11).getInt64();
  return session;
}

std::int64_t next_version(SQLite::Database& database) {
  run(database, "UPDATE access_version SET value = value + 1");
  return database.execAndGet("SELECT value FROM access_version").getInt64();
}

std::optional<StoredAccount> account(SQLite::Database& database, const std::string& id) {
  return row_of(
      database, std::string("SELECT ") + account_columns + " FROM account a WHERE a.id = ?",
      [](SQLite::Statement& row) { return account_row(row); }, id);
}

void insert_account(SQLite::Database& database, const StoredAccount& account) {
  std::optional<std::int64_t> from, to;
  if (account.hours) from = account.hours->from_min, to = account.hours->to_min;
  run(database,
      "INSERT INTO account (id, agency, household, role, label, hours_from, hours_to, zone, until, created_at, "
      "bound_at, recovery_used_at) "
      "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
      account.id, account.agency, account.household, account.role, account.label, from, to, account.zone, account.until,
      account.created_at, account.bound_at, account.recovery_used_at);
}

std::optional<SessionRow> insert_session(SQLite::Database& database, StoredSession session) {
  const auto owner = account(database, session.account);
  if (!owner || owner->ended_at) return std::nullopt;
  session.changed = next_version(database);
  run(database,
      "INSERT INTO session (id, account, token_hash, signed_in_at, rotated_at, last_seen_at, expires_at, changed) "
      "VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
      session.id, session.account, Blob{session.token_hash}, session.signed_in_at, session.rotated_at,
      session.last_seen_at, session.expires_at, session.changed);
  return SessionRow{session, *owner};
}

void end_keys(SQLite::Database& database, const std::string& account, const Done& done, const std::string& why) {
  run(database, "DELETE FROM passkey WHERE account = ?", account);
  run(database, "UPDATE recovery_code SET used_at = ? WHERE account = ? AND used_at IS NULL", done.at, account);
  run(database, "UPDATE session SET ended_at = ?, ended_why = ?, changed = ? WHERE account = ? AND ended_at IS NULL",
      done.at, why, next_version(database), account);
}

bool end_account(SQLite::Database& database, const std::string& id, const std::string& why, const Done& done) {
  const auto ends = account(database, id);
  if (!ends || ends->ended_at) return false;
  run(database, "UPDATE account SET ended_at = ?, ended_why = ? WHERE id = ?", done.at, why, id);
  run(database, "UPDATE invitation SET used_at = ? WHERE account = ? AND used_at IS NULL", done.at, id);
  end_keys(database, id, done, why);
  end_subscription(database, id);
  note_event(database, id, done, "ended", why);
  return true;
}

void erase_phones(SQLite::Database& database, const std::string& household, const Done& done) {
  const auto phones = rows_of(
      database, "SELECT id FROM account WHERE household = ?",
      [](SQLite::Statement& row) { return row.getColumn(0).getString(); }, household);
  for (const auto& phone : phones) end_account(database, phone, "erased", done);
  run(database, "DELETE FROM recovery_code WHERE household = ?", household);
  run(database, "UPDATE account SET label = '', household = '', agency = '' WHERE household = ?", household);
}

void insert_passkey(SQLite::Database& database, const StoredPasskey& passkey) {
  run(database,
      "INSERT INTO passkey (credential, account, cose_key, sign_count, user_verified, backup_eligible, backed_up, "
      "created_at) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
      Blob{passkey.credential}, passkey.account, Blob{passkey.cose_key}, passkey.sign_count,
      std::int64_t{passkey.user_verified}, std::int64_t{passkey.backup_eligible}, std::int64_t{passkey.backed_up},
      passkey.created_at);
}

void insert_recovery_code(SQLite::Database& database, const StoredRecoveryCode& code) {
  run(database,
      "INSERT OR REPLACE INTO recovery_code (selector, hash, account, household, created_at) VALUES (?, ?, ?, ?, ?)",
      code.selector, code.hash, code.account, code.household, code.created_at);
}

nlohmann::json what_it_may(const StoredAccount& account) {
  nlohmann::json may{{"role", account.role},
                     {"household", account.household},
                     {"hours", nullptr},
                     {"zone", account.zone},
                     {"until", nullptr}};
  if (account.hours) may["hours"] = {account.hours->from_min, account.hours->to_min};
  if (account.until) may["until"] = account.until->time_since_epoch().count();
  return may;
}

bool is_erased(const StoredAccount& account) {
  return account.agency.empty() && account.household.empty() && account.ended_at && account.role != "operator";
}

void note_event(SQLite::Database& database, const std::string& id, const Done& done, const char* action,
                const std::string& why) {
  const auto subject = account(database, id);
  if (!subject) return;
  nlohmann::json content{{"may", what_it_may(*subject)}};
  if (!why.empty()) content["why"] = why;
  if (subject->ended_at) content["ended"] = true;
  chain::append(database, {subject->agency, done.at, done.by, action, id, content.dump(), subject->household});
}

void take_over_accounts(SQLite::Database& database, Instant at) {
  const auto accounts =
      rows_of(database, std::string("SELECT ") + account_columns + " FROM account a ORDER BY a.created_at, a.id",
              [](SQLite::Statement& row) { return account_row(row); });
  for (const auto& account : accounts) {
    if (!is_erased(account)) note_event(database, account.id, {"", at}, "taken-over");
  }
}

}  // namespace cellarer::store::access_rows
