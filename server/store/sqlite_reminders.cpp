// SPDX-License-Identifier: MIT
// Reminders and what waits for push services, in SQLite.
#include "server/store/access_rows.hpp"
#include "server/store/sqlite_reminder_store.hpp"

namespace cellarer::store {

using namespace access_rows;
using SQLite::Database;
using SQLite::Statement;

namespace {

StoredReminder reminder_row(Statement& row) {
  const auto text = [&](int column) { return row.getColumn(column).getString(); };
  return {text(0),
          text(1),
          text(2),
          instant_of(row.getColumn(3)),
          instant_of(row.getColumn(4)),
          optional_instant(row.getColumn(5)),
          optional_instant(row.getColumn(6))};
}

void insert(Database& db, const NewMessage& message) {
  run(db, "DELETE FROM push_message WHERE account = ? AND topic = ?", message.account, message.topic);
  run(db, "INSERT INTO push_message (account, topic, payload, urgent, expires_at, next_at) VALUES (?, ?, ?, ?, ?, ?)",
      message.account, message.topic, message.payload, std::int64_t{message.urgent}, message.expires_at,
      message.next_at);
}

void insert_all(Database& db, const std::string& reminder, const std::vector<NewMessage>& messages) {
  for (const auto& message : messages) {
    insert(db, message);
    run(db, "INSERT OR IGNORE INTO reminder_phone (reminder, account) VALUES (?, ?)", reminder, message.account);
  }
}

WaitingMessage waiting_row(Statement& row) {
  const auto text = [&](int column) { return row.getColumn(column).getString(); };
  WaitingMessage one;
  one.id = row.getColumn(0).getInt64();
  one.message = {text(1),
                 text(2),
                 text(3),
                 row.getColumn(4).getInt() != 0,
                 instant_of(row.getColumn(5)),
                 instant_of(row.getColumn(6))};
  one.attempts = row.getColumn(7).getInt();
  one.to = {text(1),
            text(8),
            text(9),
            bytes_of(row.getColumn(10)),
            bytes_of(row.getColumn(11)),
            text(12),
            instant_of(row.getColumn(13))};
  return one;
}

}  // namespace

bool SqliteReminderStore::raise(const StoredReminder& reminder, const std::vector<NewMessage>& messages) {
  return engine_.write([&](Database& db) {
    const bool is_new =
        run(db, "INSERT OR IGNORE INTO reminder (id, household, subject, due, raised_at) VALUES (?, ?, ?, ?, ?)",
            reminder.id, reminder.household, reminder.subject, reminder.due, reminder.raised_at) > 0;
    if (is_new) insert_all(db, reminder.id, messages);
    return is_new;
  });
}

std::vector<StoredReminder> SqliteReminderStore::open_reminders(const std::string& household) {
  return engine_.read([&](Database& db) {
    return rows_of(db,
                   "SELECT id, household, subject, due, raised_at, seconded_at, closed_at FROM reminder "
                   "WHERE household = ? AND closed_at IS NULL ORDER BY raised_at, id",
                   reminder_row, household);
  });
}

void SqliteReminderStore::second(const std::string& reminder, Instant at, const std::vector<NewMessage>& messages) {
  engine_.write([&](Database& db) {
    run(db, "UPDATE reminder SET seconded_at = ? WHERE id = ?", at, reminder);
    insert_all(db, reminder, messages);
  });
}

std::vector<std::string> SqliteReminderStore::phones_of(const std::string& reminder) {
  return engine_.read([&](Database& db) {
    return rows_of(
        db, "SELECT account FROM reminder_phone WHERE reminder = ? ORDER BY account",
        [](Statement& row) { return row.getColumn(0).getString(); }, reminder);
  });
}

void SqliteReminderStore::close(const std::string& reminder, Instant at) {
  engine_.write([&](Database& db) { run(db, "UPDATE reminder SET closed_at = ? WHERE id = ?", at, reminder); });
}

void SqliteReminderStore::take_back(const std::string& reminder, const std::vector<NewMessage>& messages) {
  engine_.write([&](Database& db) {
    run(db, "DELETE FROM reminder_phone WHERE reminder = ?", reminder);
    run(db, "DELETE FROM reminder WHERE id = ?", reminder);
    for (const auto& message : messages) insert(db, message);
  });
}

void SqliteReminderStore::forget_closed(Instant before) {
  engine_.write([&](Database& db) {
    run(db, "DELETE FROM reminder_phone WHERE reminder IN (SELECT id FROM reminder WHERE closed_at < ?)", before);
    run(db, "DELETE FROM reminder WHERE closed_at < ?", before);
  });
}

void SqliteReminderStore::queue(const NewMessage& message) {
  engine_.write([&](Database& db) { insert(db, message); });
}

std::vector<WaitingMessage> SqliteReminderStore::waiting(Instant now, std::size_t limit) {
  const auto expired = engine_.read([&](Database& db) {
    return row_of(
        db, "SELECT id FROM push_message WHERE expires_at <= ? LIMIT 1",
        [](Statement& row) { return row.getColumn(0).getInt64(); }, now);
  });
  if (expired) engine_.write([&](Database& db) { run(db, "DELETE FROM push_message WHERE expires_at <= ?", now); });
  return engine_.read([&](Database& db) {
    return rows_of(db,
                   "SELECT m.id, m.account, m.topic, m.payload, m.urgent, m.expires_at, m.next_at, m.attempts, "
                   "s.household, s.endpoint, s.public_key, s.auth_secret, s.part, s.created_at FROM push_message m "
                   "JOIN push_subscription s ON s.account = m.account WHERE m.next_at <= ? AND m.expires_at > ? "
                   "ORDER BY m.urgent DESC, m.id LIMIT ?",
                   waiting_row, now, now, static_cast<std::int64_t>(limit));
  });
}

void SqliteReminderStore::sent(const WaitingMessage& message, Instant at) {
  engine_.write([&](Database& db) {
    run(db, "DELETE FROM push_message WHERE id = ?", message.id);
    run(db, "UPDATE push_subscription SET sent_at = ? WHERE account = ?", at, message.message.account);
  });
}

void SqliteReminderStore::try_again(std::int64_t message, Instant at) {
  engine_.write([&](Database& db) {
    run(db, "UPDATE push_message SET next_at = ?, attempts = attempts + 1 WHERE id = ?", at, message);
  });
}

void SqliteReminderStore::drop(std::int64_t message) {
  engine_.write([&](Database& db) { run(db, "DELETE FROM push_message WHERE id = ?", message); });
}

}  // namespace cellarer::store
