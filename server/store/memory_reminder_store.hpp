// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <mutex>
#include <set>

#include "server/store/access_store.hpp"
#include "server/store/reminder_store.hpp"

namespace cellarer::store {

/// Reminders in memory, under one lock: the twin of the SQLite engine, for tests.
class MemoryReminderStore final : public ReminderStore {
 public:
  explicit MemoryReminderStore(AccessStore& access) : access_(access) {}

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

  /// All of a household that is erased.
  void erase(const std::string& household);

 private:
  bool is_there(const std::string& account);
  void forget_ended();
  void put(const NewMessage& message);
  void put_all(const std::string& reminder, const std::vector<NewMessage>& messages);
  bool forget(const std::string& account);

  AccessStore& access_;
  std::mutex mutex_;
  std::map<std::string, StoredFeed> feeds_;  ///< by id
  std::map<std::pair<std::string, std::string>, std::pair<Instant, int>> events_;
  std::map<std::string, StoredSubscription> subscriptions_;
  std::map<std::string, StoredReminder> reminders_;
  std::map<std::string, std::set<std::string>> phones_;
  std::map<std::int64_t, WaitingMessage> messages_;
  std::int64_t last_message_ = 0;
};

}  // namespace cellarer::store
