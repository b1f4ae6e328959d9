// SPDX-License-Identifier: MIT
// Agencies, accounts and invitations in SQLite.
#include "server/store/access_rows.hpp"
#include "server/store/chain.hpp"
#include "server/store/sqlite_access_store.hpp"

namespace cellarer::store {

using namespace access_rows;
using SQLite::Database;
using SQLite::Statement;

namespace {

constexpr const char* invitation_columns =
    "i.id, i.account, i.invited_by, i.without_passkey, i.created_at, i.expires_at, i.used_at";
constexpr int invitation_width = 7;

InvitationRow invitation_row(Statement& row) {
  InvitationRow found;
  found.invitation = {row.getColumn(0).getString(),      row.getColumn(1).getString(), row.getColumn(2).getString(),
                      row.getColumn(3).getInt() != 0,    instant_of(row.getColumn(4)), instant_of(row.getColumn(5)),
                      optional_instant(row.getColumn(6))};
  found.account = account_row(row, invitation_width);
  return found;
}

std::string select_invitations() {
  return std::string("SELECT ") + invitation_columns + ", " + account_columns +
         " FROM invitation i JOIN account a ON a.id = i.account ";
}

std::optional<InvitationRow> by_code(Database& db, const std::string& code_hash) {
  return row_of(db, select_invitations() + "WHERE i.code_hash = ?", invitation_row, Blob{code_hash});
}

}  // namespace

bool SqliteAccessStore::add_agency(const std::string& reference, const Done& done) {
  return engine_.write([&](Database& db) {
    if (run(db, "INSERT OR IGNORE INTO agency (reference, created_at) VALUES (?, ?)", reference, done.at) != 1) {
      return false;
    }
    chain::append(db, {reference, done.at, done.by, "agency-made", reference});
    return true;
  });
}

bool SqliteAccessStore::has_agency(const std::string& reference) {
  return engine_.read([&](Database& db) {
    return row_of(
               db, "SELECT 1 FROM agency WHERE reference = ?", [](Statement&) { return true; }, reference)
        .has_value();
  });
}

std::vector<AgencySize> SqliteAccessStore::agencies() {
  return engine_.read([&](Database& db) {
    return rows_of(
        db,
        "SELECT g.reference, "
        "(SELECT count(*) FROM household h WHERE h.reference > g.reference || '/' AND h.reference < g.reference || "
        "'0'), "
        "(SELECT count(*) FROM account a WHERE a.agency = g.reference AND a.bound_at IS NOT NULL AND a.ended_at IS "
        "NULL) "
        "FROM agency g ORDER BY g.reference",  // '0' follows '/'
        [](Statement& row) {
          return AgencySize{row.getColumn(0).getString(), row.getColumn(1).getInt64(), row.getColumn(2).getInt64()};
        });
  });
}

void SqliteAccessStore::invite(const StoredAccount& wanted, const StoredInvitation& invitation,
                               const std::string& code_hash) {
  engine_.write([&](Database& db) {
    if (!access_rows::account(db, wanted.id)) insert_account(db, wanted);
    run(db,
        "INSERT INTO invitation (id, code_hash, account, invited_by, without_passkey, created_at, expires_at) "
        "VALUES (?, ?, ?, ?, ?, ?, ?)",
        invitation.id, Blob{code_hash}, wanted.id, invitation.invited_by, std::int64_t{invitation.without_passkey},
        invitation.created_at, invitation.expires_at);
    note_event(db, wanted.id, {invitation.invited_by, invitation.created_at}, "invited");
  });
}

std::optional<InvitationRow> SqliteAccessStore::invitation(const std::string& code_hash) {
  return engine_.read([&](Database& db) { return by_code(db, code_hash); });
}

std::vector<InvitationRow> SqliteAccessStore::invitations(const std::string& agency, const std::string& household,
                                                          Instant now) {
  return engine_.read([&](Database& db) {
    return rows_of(db,
                   select_invitations() +
                       "WHERE a.agency = ? AND (? = '' OR a.household = ?) AND i.used_at IS NULL AND i.expires_at > ? "
                       "ORDER BY i.created_at DESC, i.id",
                   invitation_row, agency, household, household, now);
  });
}

bool SqliteAccessStore::withdraw(const std::string& invitation, const Done& done) {
  return engine_.write([&](Database& db) {
    if (run(db, "UPDATE invitation SET used_at = ? WHERE id = ? AND used_at IS NULL AND expires_at > ?", done.at,
            invitation, done.at) != 1) {
      return false;
    }
    const auto invited = row_of(db, select_invitations() + "WHERE i.id = ?", invitation_row, invitation);
    note_event(db, invited.value().account.id, done, "withdrawn");
    return true;
  });
}

std::optional<SessionRow> SqliteAccessStore::accept(const std::string& code_hash, const Acceptance& acceptance,
                                                    Instant at) {
  return engine_.write([&](Database& db) -> std::optional<SessionRow> {
    const auto found = by_code(db, code_hash);
    if (!found || found->invitation.used_at || found->invitation.expires_at <= at || found->account.ended_at) {
      return std::nullopt;
    }
    run(db, "UPDATE invitation SET used_at = ? WHERE id = ?", at, found->invitation.id);
    const std::string& label = acceptance.label.empty() ? found->account.label : acceptance.label;
    run(db, "UPDATE account SET bound_at = coalesce(bound_at, ?), label = ? WHERE id = ?", at, label,
        found->account.id);
    if (acceptance.passkey) {
      end_keys(db, found->account.id, {found->account.id, at}, "new-passkey");
      insert_passkey(db, *acceptance.passkey);
    }
    for (const auto& code : acceptance.recovery_codes) insert_recovery_code(db, code);
    auto session = acceptance.session;
    session.account = found->account.id;
    const auto opened = insert_session(db, session);
    note_event(db, found->account.id, {found->account.id, at}, "bound");
    return opened;
  });
}

std::optional<StoredAccount> SqliteAccessStore::account(const std::string& id) {
  return engine_.read([&](Database& db) { return access_rows::account(db, id); });
}

std::vector<AccountRow> SqliteAccessStore::accounts(const std::string& agency, const std::string& household) {
  return engine_.read([&](Database& db) {
    return rows_of(
        db,
        std::string("SELECT ") + account_columns +
            ", (SELECT max(last_seen_at) FROM session s WHERE s.account = a.id) FROM account a WHERE a.agency = ? AND "
            "a.household = ? AND a.bound_at IS NOT NULL AND a.ended_at IS NULL ORDER BY a.bound_at, a.id",
        [](Statement& row) {
          return AccountRow{account_row(row), optional_instant(row.getColumn(account_width))};
        },
        agency, household);
  });
}

bool SqliteAccessStore::end_account(const std::string& id, const std::string& why, const Done& done) {
  return engine_.write([&](Database& db) { return access_rows::end_account(db, id, why, done); });
}

std::optional<std::string> SqliteAccessStore::note(const std::string& name) {
  return engine_.read([&](Database& db) {
    return row_of(
        db, "SELECT value FROM note WHERE name = ?", [](Statement& row) { return row.getColumn(0).getString(); }, name);
  });
}

void SqliteAccessStore::set_note(const std::string& name, const std::string& value) {
  engine_.write([&](Database& db) {
    run(db, "INSERT INTO note (name, value) VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET value = excluded.value",
        name, value);
  });
}

}  // namespace cellarer::store
