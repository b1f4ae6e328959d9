// SPDX-License-Identifier: MIT
#include "server/store/memory_reminder_store.hpp"

#include <algorithm>

namespace cellarer::store {

using Lock = std::lock_guard<std::mutex>;

void MemoryReminderStore::put_feed(const StoredFeed& feed) {
  end_feed(feed.agency, feed.household, feed.purpose);
  const Lock lock(mutex_);
  feeds_[feed.id] = feed;
}

std::optional<StoredFeed> MemoryReminderStore::feed(const std::string& token_hash) {
  const Lock lock(mutex_);
  for (const auto& [id, feed] : feeds_) {
    if (feed.token_hash == token_hash) return feed;
  }
  return std::nullopt;
}

std::optional<StoredFeed> MemoryReminderStore::feed_of(const std::string& agency, const std::string& household,
                                                       const std::string& purpose) {
  const Lock lock(mutex_);
  for (const auto& [id, feed] : feeds_) {
    if (feed.agency == agency && feed.household == household && feed.purpose == purpose) return feed;
  }
  return std::nullopt;
}

void MemoryReminderStore::feed_read(const std::string& id, Instant at) {
  const Lock lock(mutex_);
  if (const auto found = feeds_.find(id); found != feeds_.end()) found->second.read_at = at;
}

bool MemoryReminderStore::end_feed(const std::string& agency, const std::string& household,
                                   const std::string& purpose) {
  const auto found = feed_of(agency, household, purpose);
  if (!found) return false;
  const Lock lock(mutex_);
  std::erase_if(events_, [&](const auto& event) { return event.first.first == found->id; });
  return feeds_.erase(found->id) > 0;
}

int MemoryReminderStore::sequence(const std::string& feed, const std::string& uid, Instant at) {
  const Lock lock(mutex_);
  auto& [stood, sequence] = events_.try_emplace({feed, uid}, at, 0).first->second;
  if (stood != at) ++sequence;
  stood = at;
  return sequence;
}

bool MemoryReminderStore::is_there(const std::string& account) {
  const auto found = access_.account(account);
  return found && !found->ended_at;
}

/// As the other engine forgets in the very transaction that ends an account.
void MemoryReminderStore::forget_ended() {
  std::vector<std::string> ended;
  for (const auto& [account, subscription] : subscriptions_) {
    if (!is_there(account)) ended.push_back(account);
  }
  for (const auto& account : ended) forget(account);
}

bool MemoryReminderStore::forget(const std::string& account) {
  std::erase_if(messages_, [&](const auto& one) { return one.second.message.account == account; });
  for (auto& [reminder, phones] : phones_) phones.erase(account);
  return subscriptions_.erase(account) > 0;
}

void MemoryReminderStore::put_subscription(const StoredSubscription& subscription) {
  const Lock lock(mutex_);
  if (is_there(subscription.account)) subscriptions_[subscription.account] = subscription;
}

std::optional<StoredSubscription> MemoryReminderStore::subscription(const std::string& account) {
  const Lock lock(mutex_);
  forget_ended();
  const auto found = subscriptions_.find(account);
  return found == subscriptions_.end() ? std::nullopt : std::optional(found->second);
}

std::vector<StoredSubscription> MemoryReminderStore::subscriptions(const std::string& household) {
  const Lock lock(mutex_);
  forget_ended();
  std::vector<StoredSubscription> found;
  for (const auto& [account, one] : subscriptions_) {
    if (one.household == household) found.push_back(one);
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const auto& one, const auto& other) { return one.created_at < other.created_at; });
  return found;
}

std::vector<std::string> MemoryReminderStore::subscribed_households() {
  const Lock lock(mutex_);
  forget_ended();
  std::set<std::string> keys;
  for (const auto& [account, one] : subscriptions_) keys.insert(one.household);
  return {keys.begin(), keys.end()};
}

bool MemoryReminderStore::end_subscription(const std::string& account) {
  const Lock lock(mutex_);
  return forget(account);
}

void MemoryReminderStore::confirmed(const std::string& account, Instant at) {
  const Lock lock(mutex_);
  if (const auto found = subscriptions_.find(account); found != subscriptions_.end()) found->second.confirmed_at = at;
}

void MemoryReminderStore::put(const NewMessage& message) {
  std::erase_if(messages_, [&](const auto& one) {
    return one.second.message.account == message.account && one.second.message.topic == message.topic;
  });
  const auto id = ++last_message_;
  messages_[id] = {id, message, 0, {}};
}

void MemoryReminderStore::put_all(const std::string& reminder, const std::vector<NewMessage>& messages) {
  for (const auto& message : messages) {
    put(message);
    phones_[reminder].insert(message.account);
  }
}

bool MemoryReminderStore::raise(const StoredReminder& reminder, const std::vector<NewMessage>& messages) {
  const Lock lock(mutex_);
  for (const auto& [id, one] : reminders_) {
    if (one.household == reminder.household && one.subject == reminder.subject && one.due == reminder.due) return false;
  }
  reminders_[reminder.id] = reminder;
  put_all(reminder.id, messages);
  return true;
}

std::vector<StoredReminder> MemoryReminderStore::open_reminders(const std::string& household) {
  const Lock lock(mutex_);
  std::vector<StoredReminder> open;
  for (const auto& [id, one] : reminders_) {
    if (one.household == household && !one.closed_at) open.push_back(one);
  }
  std::stable_sort(open.begin(), open.end(),
                   [](const auto& one, const auto& other) { return one.raised_at < other.raised_at; });
  return open;
}

void MemoryReminderStore::second(const std::string& reminder, Instant at, const std::vector<NewMessage>& messages) {
  const Lock lock(mutex_);
  if (const auto found = reminders_.find(reminder); found != reminders_.end()) found->second.seconded_at = at;
  put_all(reminder, messages);
}

std::vector<std::string> MemoryReminderStore::phones_of(const std::string& reminder) {
  const Lock lock(mutex_);
  forget_ended();
  const auto& phones = phones_[reminder];
  return {phones.begin(), phones.end()};
}

void MemoryReminderStore::close(const std::string& reminder, Instant at) {
  const Lock lock(mutex_);
  if (const auto found = reminders_.find(reminder); found != reminders_.end()) found->second.closed_at = at;
}

void MemoryReminderStore::take_back(const std::string& reminder, const std::vector<NewMessage>& messages) {
  const Lock lock(mutex_);
  reminders_.erase(reminder);
  phones_.erase(reminder);
  for (const auto& message : messages) put(message);
}

void MemoryReminderStore::forget_closed(Instant before) {
  const Lock lock(mutex_);
  std::erase_if(reminders_, [&](const auto& one) {
    const bool over = one.second.closed_at && *one.second.closed_at < before;
    if (over) phones_.erase(one.first);
    return over;
  });
}

void MemoryReminderStore::queue(const NewMessage& message) {
  const Lock lock(mutex_);
  put(message);
}

std::vector<WaitingMessage> MemoryReminderStore::waiting(Instant now, std::size_t limit) {
  const Lock lock(mutex_);
  forget_ended();
  std::erase_if(messages_, [&](const auto& one) { return one.second.message.expires_at <= now; });
  std::vector<WaitingMessage> found;
  for (const auto& [id, one] : messages_) {
    const auto to = subscriptions_.find(one.message.account);
    if (to == subscriptions_.end() || one.message.next_at > now) continue;
    found.push_back(one);
    found.back().to = to->second;
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const auto& one, const auto& other) { return one.message.urgent > other.message.urgent; });
  if (found.size() > limit) found.resize(limit);
  return found;
}

void MemoryReminderStore::sent(const WaitingMessage& message, Instant at) {
  const Lock lock(mutex_);
  messages_.erase(message.id);
  const auto found = subscriptions_.find(message.message.account);
  if (found != subscriptions_.end()) found->second.sent_at = at;
}

void MemoryReminderStore::try_again(std::int64_t message, Instant at) {
  const Lock lock(mutex_);
  const auto found = messages_.find(message);
  if (found == messages_.end()) return;
  found->second.message.next_at = at;
  ++found->second.attempts;
}

void MemoryReminderStore::drop(std::int64_t message) {
  const Lock lock(mutex_);
  messages_.erase(message);
}

void MemoryReminderStore::erase(const std::string& household) {
  const Lock lock(mutex_);
  std::vector<std::string> accounts;
  for (const auto& [account, one] : subscriptions_) {
    if (one.household == household) accounts.push_back(account);
  }
  for (const auto& account : accounts) forget(account);
  std::erase_if(feeds_, [&](const auto& one) {
    if (one.second.household != household) return false;
    std::erase_if(events_, [&](const auto& event) { return event.first.first == one.first; });
    return true;
  });
  std::erase_if(reminders_, [&](const auto& one) {
    if (one.second.household != household) return false;
    phones_.erase(one.first);
    return true;
  });
}

}  // namespace cellarer::store
