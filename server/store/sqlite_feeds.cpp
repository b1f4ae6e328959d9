// SPDX-License-Identifier: MIT
// Secret addresses and subscriptions in SQLite.
#include "server/store/access_rows.hpp"
#include "server/store/sqlite_reminder_store.hpp"

namespace cellarer::store {

using namespace access_rows;
using SQLite::Database;
using SQLite::Statement;

namespace {

constexpr const char* select_feeds =
    "SELECT id, agency, household, purpose, token_hash, made_by, created_at, read_at FROM feed ";

StoredFeed feed_row(Statement& row) {
  const auto text = [&](int column) { return row.getColumn(column).getString(); };
  return {text(0),
          text(1),
          text(2),
          text(3),
          bytes_of(row.getColumn(4)),
          text(5),
          instant_of(row.getColumn(6)),
          optional_instant(row.getColumn(7))};
}

constexpr const char* select_subscriptions =
    "SELECT account, household, endpoint, public_key, auth_secret, part, created_at, sent_at, confirmed_at "
    "FROM push_subscription ";

StoredSubscription subscription_row(Statement& row) {
  const auto text = [&](int column) { return row.getColumn(column).getString(); };
  return {text(0),
          text(1),
          text(2),
          bytes_of(row.getColumn(3)),
          bytes_of(row.getColumn(4)),
          text(5),
          instant_of(row.getColumn(6)),
          optional_instant(row.getColumn(7)),
          optional_instant(row.getColumn(8))};
}

bool remove_feed(Database& db, const std::string& agency, const std::string& household, const std::string& purpose) {
  run(db,
      "DELETE FROM feed_event WHERE feed IN (SELECT id FROM feed WHERE agency = ? AND household = ? AND purpose = ?)",
      agency, household, purpose);
  return run(db, "DELETE FROM feed WHERE agency = ? AND household = ? AND purpose = ?", agency, household, purpose) > 0;
}

}  // namespace

void SqliteReminderStore::put_feed(const StoredFeed& feed) {
  engine_.write([&](Database& db) {
    remove_feed(db, feed.agency, feed.household, feed.purpose);
    run(db,
        "INSERT INTO feed (id, agency, household, purpose, token_hash, made_by, created_at) VALUES (?, ?, ?, ?, ?, ?, "
        "?)",
        feed.id, feed.agency, feed.household, feed.purpose, Blob{feed.token_hash}, feed.made_by, feed.created_at);
  });
}

std::optional<StoredFeed> SqliteReminderStore::feed(const std::string& token_hash) {
  return engine_.read([&](Database& db) {
    return row_of(db, std::string(select_feeds) + "WHERE token_hash = ?", feed_row, Blob{token_hash});
  });
}

std::optional<StoredFeed> SqliteReminderStore::feed_of(const std::string& agency, const std::string& household,
                                                       const std::string& purpose) {
  return engine_.read([&](Database& db) {
    return row_of(db, std::string(select_feeds) + "WHERE agency = ? AND household = ? AND purpose = ?", feed_row,
                  agency, household, purpose);
  });
}

void SqliteReminderStore::feed_read(const std::string& id, Instant at) {
  engine_.write([&](Database& db) { run(db, "UPDATE feed SET read_at = ? WHERE id = ?", at, id); });
}

bool SqliteReminderStore::end_feed(const std::string& agency, const std::string& household,
                                   const std::string& purpose) {
  return engine_.write([&](Database& db) { return remove_feed(db, agency, household, purpose); });
}

int SqliteReminderStore::sequence(const std::string& feed, const std::string& uid, Instant at) {
  struct Stood {
    Instant at;
    int sequence;
  };
  const auto stood = engine_.read([&](Database& db) {
    return row_of(
        db, "SELECT at, sequence FROM feed_event WHERE feed = ? AND uid = ?",
        [](Statement& row) {
          return Stood{instant_of(row.getColumn(0)), row.getColumn(1).getInt()};
        },
        feed, uid);
  });
  if (stood && stood->at == at) return stood->sequence;
  return engine_.write([&](Database& db) {
    run(db,
        "INSERT INTO feed_event (feed, uid, at, sequence) VALUES (?, ?, ?, 0) ON CONFLICT DO UPDATE SET "
        "sequence = sequence + (at <> excluded.at), at = excluded.at",
        feed, uid, at);
    return row_of(
               db, "SELECT sequence FROM feed_event WHERE feed = ? AND uid = ?",
               [](Statement& row) { return row.getColumn(0).getInt(); }, feed, uid)
        .value_or(0);
  });
}

void SqliteReminderStore::put_subscription(const StoredSubscription& subscription) {
  engine_.write([&](Database& db) {
    run(db,
        "INSERT OR REPLACE INTO push_subscription (account, household, endpoint, public_key, auth_secret, part, "
        "created_at) SELECT ?1, ?2, ?3, ?4, ?5, ?6, ?7 WHERE EXISTS (SELECT 1 FROM account WHERE id = ?1 AND "
        "ended_at IS NULL)",
        subscription.account, subscription.household, subscription.endpoint, Blob{subscription.public_key},
        Blob{subscription.auth_secret}, subscription.part, subscription.created_at);
  });
}

std::optional<StoredSubscription> SqliteReminderStore::subscription(const std::string& account) {
  return engine_.read([&](Database& db) {
    return row_of(db, std::string(select_subscriptions) + "WHERE account = ?", subscription_row, account);
  });
}

std::vector<StoredSubscription> SqliteReminderStore::subscriptions(const std::string& household) {
  return engine_.read([&](Database& db) {
    return rows_of(db, std::string(select_subscriptions) + "WHERE household = ? ORDER BY created_at, account",
                   subscription_row, household);
  });
}

std::vector<std::string> SqliteReminderStore::subscribed_households() {
  return engine_.read([&](Database& db) {
    return rows_of(db, "SELECT DISTINCT household FROM push_subscription ORDER BY household",
                   [](Statement& row) { return row.getColumn(0).getString(); });
  });
}

bool SqliteReminderStore::end_subscription(const std::string& account) {
  return engine_.write([&](Database& db) {
    const bool was = run(db, "DELETE FROM push_subscription WHERE account = ?", account) > 0;
    store::end_subscription(db, account);
    return was;
  });
}

void SqliteReminderStore::confirmed(const std::string& account, Instant at) {
  engine_.write(
      [&](Database& db) { run(db, "UPDATE push_subscription SET confirmed_at = ? WHERE account = ?", at, account); });
}

void end_subscription(Database& db, const std::string& account) {
  for (const char* statement :
       {"DELETE FROM push_message WHERE account = ?", "DELETE FROM reminder_phone WHERE account = ?",
        "DELETE FROM push_subscription WHERE account = ?"}) {
    run(db, statement, account);
  }
}

void erase_reminders(Database& db, const std::string& household) {
  for (const char* statement :
       {"DELETE FROM feed_event WHERE feed IN (SELECT id FROM feed WHERE household = ?)",
        "DELETE FROM feed WHERE household = ?",
        "DELETE FROM push_message WHERE account IN (SELECT account FROM push_subscription WHERE household = ?)",
        "DELETE FROM push_subscription WHERE household = ?",
        "DELETE FROM reminder_phone WHERE reminder IN (SELECT id FROM reminder WHERE household = ?)",
        "DELETE FROM reminder WHERE household = ?"}) {
    run(db, statement, household);
  }
}

}  // namespace cellarer::store
