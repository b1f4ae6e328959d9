// SPDX-License-Identifier: MIT
#pragma once
#include "server/store/reminder_store.hpp"
#include "server/store/sqlite_engine.hpp"

namespace cellarer::store {

/// Reminders in the same SQLite file as the entries; its methods stand in sqlite_feeds.cpp and sqlite_reminders.cpp.
class SqliteReminderStore final : public ReminderStore {
 public:
  explicit SqliteReminderStore(SqliteEngine& engine) : engine_(engine) {}

  void put_feed(const StoredFeed& feed) override;
  std::optional<StoredFeed> feed(const std::string& token_hash) override;
  std::optional<StoredFeed> feed_of(const std::string& agency, const std::string& household,
                                    const std::string& purpose) override;
  void feed_read(const std::string& id, Instant at) override;
  bool end_feed(const std::string& agency, const std::string& household, const std::string& purpose) override;
  int sequence(const std::string& feed, const std::string& uid, Instant at) override;

  void put_subscription(const StoredSubscription& subscription) override;
  std::optional<StoredSubscription> subscription(const std::string& account) override;
  std::vector<StoredSubscription> subscriptions(const std::string& household) override;
  std::vector<std::string> subscribed_households() override;
  bool end_subscription(const std::string& account) override;
  void confirmed(const std::string& account, Instant at) override;

  bool raise(const StoredReminder& reminder, const std::vector<NewMessage>& messages) override;
  std::vector<StoredReminder> open_reminders(const std::string& household) override;
  void second(const std::string& reminder, Instant at, const std::vector<NewMessage>& messages) override;
  std::vector<std::string> phones_of(const std::string& reminder) override;
  void close(const std::string& reminder, Instant at) override;
  void take_back(const std::string& reminder, const std::vector<NewMessage>& messages) override;
  void forget_closed(Instant before) override;

  void queue(const NewMessage& message) override;
  std::vector<WaitingMessage> waiting(Instant now, std::size_t limit) override;
  void sent(const WaitingMessage& message, Instant at) override;
  void try_again(std::int64_t message, Instant at) override;
  void drop(std::int64_t message) override;

 private:
  SqliteEngine& engine_;
};

/// For the transactions in which an account ends, or a household is erased.
void end_subscription(SQLite::Database& database, const std::string& account);
void erase_reminders(SQLite::Database& database, const std::string& household);

}  // namespace cellarer::store
