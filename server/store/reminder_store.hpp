// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "model/quantities/time.hpp"

/// Secret addresses of calendars, phones that are pushed to, and which reminders went out, as they are kept. An
/// abstract class like `Store`, with two engines that pass the same contract tests
/// (tests/server/reminder_store_contract.cpp).
///
/// Households are named by their keys, phones by their accounts; a phone that is signed out for good has no
/// subscription any more, an erased household has nothing here. Writes return when they are durable; everything is
/// thread-safe; a failing disk throws `StoreError`.
namespace cellarer::store {

/// A calendar that is read by a secret address.
struct StoredFeed {
  std::string id, agency;
  std::string household;   ///< empty: of the agency
  std::string purpose;     ///< "reminders"
  std::string token_hash;  ///< bytes
  std::string made_by;     ///< account
  Instant created_at = {};
  std::optional<Instant> read_at = std::nullopt;
};

struct StoredSubscription {
  std::string account, household, endpoint;
  std::string public_key, auth_secret;  ///< bytes
  std::string part;                     ///< "first", "second"
  Instant created_at = {};
  std::optional<Instant> sent_at = std::nullopt, confirmed_at = std::nullopt;
};

struct StoredReminder {
  std::string id, household, subject;
  Instant due = {}, raised_at = {};
  std::optional<Instant> seconded_at = std::nullopt, closed_at = std::nullopt;
};

/// For one phone. One that waits under the same topic for the same phone is replaced by it.
struct NewMessage {
  std::string account, topic, payload;
  bool urgent = false;
  Instant expires_at = {}, next_at = {};
};

struct WaitingMessage {
  std::int64_t id = 0;
  NewMessage message;
  int attempts = 0;
  StoredSubscription to;
};

class ReminderStore {
 public:
  virtual ~ReminderStore() = default;

  /// In the place of the one of the same agency, household and purpose.
  virtual void put_feed(const StoredFeed& feed) = 0;
  virtual std::optional<StoredFeed> feed(const std::string& token_hash) = 0;
  virtual std::optional<StoredFeed> feed_of(const std::string& agency, const std::string& household,
                                            const std::string& purpose) = 0;
  virtual void feed_read(const std::string& id, Instant at) = 0;
  /// False where there was none.
  virtual bool end_feed(const std::string& agency, const std::string& household, const std::string& purpose) = 0;
  /// How often this event has moved, with it now standing at `at`. Writes only where that is news.
  virtual int sequence(const std::string& feed, const std::string& uid, Instant at) = 0;

  /// In the place of this phone's own.
  virtual void put_subscription(const StoredSubscription& subscription) = 0;
  virtual std::optional<StoredSubscription> subscription(const std::string& account) = 0;
  /// Oldest first.
  virtual std::vector<StoredSubscription> subscriptions(const std::string& household) = 0;
  /// Keys of households that have any, in order.
  virtual std::vector<std::string> subscribed_households() = 0;
  /// With what waits for it. False where there was none.
  virtual bool end_subscription(const std::string& account) = 0;
  virtual void confirmed(const std::string& account, Instant at) = 0;

  /// With its messages, all or nothing. False, and nothing is stored, where this subject and time had one before.
  virtual bool raise(const StoredReminder& reminder, const std::vector<NewMessage>& messages) = 0;
  /// Not closed, in the order in which they were raised.
  virtual std::vector<StoredReminder> open_reminders(const std::string& household) = 0;
  /// Messages to further phones for a reminder that nobody has answered.
  virtual void second(const std::string& reminder, Instant at, const std::vector<NewMessage>& messages) = 0;
  /// Phones that were sent it, and are still there.
  virtual std::vector<std::string> phones_of(const std::string& reminder) = 0;
  /// Its time is over: none is raised again for it.
  virtual void close(const std::string& reminder, Instant at) = 0;
  /// Closed as if it had never been raised: it may be raised again for the same time.
  virtual void take_back(const std::string& reminder, const std::vector<NewMessage>& messages) = 0;
  /// Forgets what was closed before then.
  virtual void forget_closed(Instant before) = 0;

  virtual void queue(const NewMessage& message) = 0;
  /// Whose time has come, and that have not expired; those that have are removed.
  virtual std::vector<WaitingMessage> waiting(Instant now, std::size_t limit) = 0;
  /// Its push service has it.
  virtual void sent(const WaitingMessage& message, Instant at) = 0;
  virtual void try_again(std::int64_t message, Instant at) = 0;
  virtual void drop(std::int64_t message) = 0;
};

}  // namespace cellarer::store
