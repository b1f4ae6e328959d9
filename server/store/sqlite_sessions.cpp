// SPDX-License-Identifier: MIT
// Sessions in SQLite.
#include "server/store/access_rows.hpp"
#include "server/store/sqlite_access_store.hpp"

namespace cellarer::store {

using namespace access_rows;
using SQLite::Database;
using SQLite::Statement;

std::optional<SessionRow> SqliteAccessStore::open_session(const StoredSession& session, Instant at) {
  return engine_.write([&](Database& db) {
    const auto opened = insert_session(db, session);
    if (opened) note_event(db, session.account, {session.account, at}, "signed-in");
    return opened;
  });
}

std::int64_t SqliteAccessStore::rotate(const StoredSession& session) {
  return engine_.write([&](Database& db) {
    const auto changed = next_version(db);
    const int rows = run(db,
                         "UPDATE session SET token_hash = ?, previous_hash = ?, previous_until = NULL, rotated_at = ?, "
                         "last_seen_at = ?, expires_at = ?, changed = ? WHERE id = ? AND ended_at IS NULL",
                         Blob{session.token_hash}, Blob{session.previous_hash}, session.rotated_at,
                         session.last_seen_at, session.expires_at, changed, session.id);
    return rows == 0 ? std::int64_t{0} : changed;
  });
}

std::int64_t SqliteAccessStore::remove_sessions_ended_before(Instant moment) {
  return engine_.write([&](Database& db) {
    return std::int64_t{run(db, "DELETE FROM session WHERE coalesce(ended_at, expires_at) < ?", moment)};
  });
}

void SqliteAccessStore::note_seen(const std::vector<Seen>& seen) {
  engine_.write([&](Database& db) {
    for (const Seen& one : seen) {
      run(db,
          "UPDATE session SET last_seen_at = max(last_seen_at, ?), previous_until = coalesce(previous_until, ?) "
          "WHERE id = ?",
          one.at, one.previous_until, one.session);
    }
  });
}

bool SqliteAccessStore::end_session(const std::string& session, const std::string& why, const Done& done) {
  return engine_.write([&](Database& db) {
    const auto ended =
        run(db, "UPDATE session SET ended_at = ?, ended_why = ?, changed = ? WHERE id = ? AND ended_at IS NULL",
            done.at, why, next_version(db), session);
    if (ended == 0) return false;
    const auto owner = row_of(
        db, "SELECT account FROM session WHERE id = ?", [](Statement& row) { return row.getColumn(0).getString(); },
        session);
    note_event(db, owner.value(), done, "ended", why);
    return true;
  });
}

std::vector<SessionRow> SqliteAccessStore::sessions_changed_since(std::int64_t changed) {
  return engine_.read([&](Database& db) {
    return rows_of(
        db,
        std::string("SELECT ") + session_columns + ", " + account_columns +
            " FROM session s JOIN account a ON a.id = s.account WHERE s.changed > ? ORDER BY s.changed",
        [](Statement& row) {
          return SessionRow{session_row(row), account_row(row, session_width)};
        },
        changed);
  });
}

std::vector<StoredSession> SqliteAccessStore::sessions_of(const std::string& account, Instant now) {
  return engine_.read([&](Database& db) {
    return rows_of(
        db,
        std::string("SELECT ") + session_columns +
            " FROM session s WHERE s.account = ? AND s.ended_at IS NULL AND s.expires_at > ? ORDER BY s.signed_in_at, "
            "s.id",
        [](Statement& row) { return session_row(row); }, account, now);
  });
}

}  // namespace cellarer::store
