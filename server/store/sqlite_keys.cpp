// SPDX-License-Identifier: MIT
// Passkeys and recovery codes in SQLite.
#include "server/store/access_rows.hpp"
#include "server/store/sqlite_access_store.hpp"

namespace cellarer::store {

using namespace access_rows;
using SQLite::Database;
using SQLite::Statement;

namespace {

constexpr const char* select_passkeys =
    "SELECT credential, account, cose_key, sign_count, user_verified, backup_eligible, backed_up, created_at, "
    "last_used_at FROM passkey ";

StoredPasskey passkey_row(Statement& row) {
  const auto flag = [&](int at) { return row.getColumn(at).getInt() != 0; };
  return {bytes_of(row.getColumn(0)),
          row.getColumn(1).getString(),
          bytes_of(row.getColumn(2)),
          row.getColumn(3).getInt64(),
          flag(4),
          flag(5),
          flag(6),
          instant_of(row.getColumn(7)),
          optional_instant(row.getColumn(8))};
}

std::optional<StoredRecoveryCode> unused_code(Database& db, const std::string& selector) {
  return row_of(
      db,
      "SELECT selector, hash, account, household, created_at, used_at FROM recovery_code WHERE selector = ? AND "
      "used_at IS NULL",
      [](Statement& row) {
        return StoredRecoveryCode{row.getColumn(0).getString(), row.getColumn(1).getString(),
                                  row.getColumn(2).getString(), row.getColumn(3).getString(),
                                  instant_of(row.getColumn(4)), optional_instant(row.getColumn(5))};
      },
      selector);
}

bool use_up(Database& db, const std::string& selector, Instant at) {
  return run(db, "UPDATE recovery_code SET used_at = ? WHERE selector = ? AND used_at IS NULL", at, selector) == 1;
}

}  // namespace

void SqliteAccessStore::add_passkey(const StoredPasskey& passkey, const Done& done) {
  engine_.write([&](Database& db) {
    insert_passkey(db, passkey);
    note_event(db, passkey.account, done, "passkey-added");
  });
}

std::optional<StoredPasskey> SqliteAccessStore::passkey(const std::string& credential) {
  return engine_.read([&](Database& db) {
    return row_of(db, std::string(select_passkeys) + "WHERE credential = ?", passkey_row, Blob{credential});
  });
}

std::vector<StoredPasskey> SqliteAccessStore::passkeys(const std::string& account) {
  return engine_.read([&](Database& db) {
    return rows_of(db, std::string(select_passkeys) + "WHERE account = ? ORDER BY created_at", passkey_row, account);
  });
}

void SqliteAccessStore::passkey_used(const StoredPasskey& passkey, Instant at) {
  engine_.write([&](Database& db) {
    run(db,
        "UPDATE passkey SET sign_count = ?, user_verified = ?, backed_up = ?, last_used_at = ? WHERE credential = ?",
        passkey.sign_count, std::int64_t{passkey.user_verified}, std::int64_t{passkey.backed_up}, at,
        Blob{passkey.credential});
  });
}

void SqliteAccessStore::replace_recovery_codes(const std::string& account, const std::string& household,
                                               const std::vector<StoredRecoveryCode>& codes, const Done& done) {
  engine_.write([&](Database& db) {
    run(db, "UPDATE recovery_code SET used_at = ? WHERE account = ? AND household = ? AND used_at IS NULL", done.at,
        account, household);
    for (const auto& code : codes) insert_recovery_code(db, code);
    run(db, "UPDATE account SET recovery_used_at = NULL WHERE id = ?", done.by);
    run(db, "UPDATE session SET changed = ? WHERE account = ? AND ended_at IS NULL", next_version(db), done.by);
    note_event(db, done.by, done, "recovery-codes-made");
  });
}

std::optional<StoredRecoveryCode> SqliteAccessStore::recovery_code(const std::string& selector) {
  return engine_.read([&](Database& db) { return unused_code(db, selector); });
}

std::optional<SessionRow> SqliteAccessStore::recover(const std::string& selector, const StoredSession& session,
                                                     Instant at) {
  return engine_.write([&](Database& db) -> std::optional<SessionRow> {
    if (!use_up(db, selector, at)) return std::nullopt;
    run(db, "UPDATE account SET recovery_used_at = ? WHERE id = ?", at, session.account);
    const auto opened = insert_session(db, session);
    if (opened) note_event(db, session.account, {session.account, at}, "recovered");
    return opened;
  });
}

std::optional<SessionRow> SqliteAccessStore::recover_household(const std::string& selector, const StoredAccount& phone,
                                                               const StoredSession& session, Instant at) {
  return engine_.write([&](Database& db) -> std::optional<SessionRow> {
    if (!use_up(db, selector, at)) return std::nullopt;
    insert_account(db, phone);
    const auto others = rows_of(
        db, "SELECT id FROM account WHERE household = ? AND id <> ? AND ended_at IS NULL",
        [](Statement& row) { return row.getColumn(0).getString(); }, phone.household, phone.id);
    for (const auto& other : others) access_rows::end_account(db, other, "sealed-code", {phone.id, at});
    note_event(db, phone.id, {phone.id, at}, "recovered");
    return insert_session(db, session);
  });
}

}  // namespace cellarer::store
