// SPDX-License-Identifier: MIT
#include "server/reminders/round.hpp"

#include <algorithm>
#include <set>

#include <spdlog/spdlog.h>

#include "server/household_key.hpp"
#include "server/push/endpoint.hpp"
#include "server/reminders/watch.hpp"

namespace cellarer::reminders {

using push::Sent;
using std::chrono::seconds;

namespace {

constexpr std::size_t at_a_time = 200;
constexpr seconds first_pause{10}, longest_pause{900}, longest_asked{3600};

std::string origin_of(const std::string& endpoint) { return endpoint.substr(0, endpoint.find('/', 8)); }

}  // namespace

seconds pause_after(int attempts, std::optional<seconds> asked) {
  const auto own = std::min(longest_pause, first_pause * (1 << std::clamp(attempts, 0, 10)));
  return std::max(own, std::min(longest_asked, asked.value_or(seconds(0))));
}

Round::Round(service::HouseholdService& households, store::ReminderStore& store, push::Sender sender,
             Forecasts forecasts, seconds every)
    : households_(households),
      store_(store),
      sender_(std::move(sender)),
      forecasts_(std::move(forecasts)),
      every_(every),
      listening_(households.changes().listen(service::Changes::all, [this](const auto&) { wake(); })),
      thread_([this] { loop(); }) {}

Round::~Round() {
  listening_.reset();
  {
    const std::lock_guard lock(mutex_);
    ending_ = true;
  }
  wakes_.notify_one();
  thread_.join();
}

void Round::wake() {
  {
    const std::lock_guard lock(mutex_);
    woken_ = true;
  }
  wakes_.notify_one();
}

void Round::loop() {
  std::unique_lock lock(mutex_);
  while (!ending_) {
    woken_ = false;
    lock.unlock();
    try {
      look_at_all();
      send_waiting();
    } catch (const std::exception& error) {
      spdlog::warn("reminders: {}", error.what());
    }
    lock.lock();
    wakes_.wait_for(lock, every_, [this] { return woken_ || ending_; });
  }
}

void Round::look_at_all() {
  for (const auto& household : store_.subscribed_households()) {
    try {
      const auto snapshot = households_.snapshot(household);
      const Instant now = households_.clock().now();
      if (snapshot->record.closed_since) {
        end_reminders(household, reference_of(household), store_, now);
        continue;
      }
      const auto forecast = forecasts_(household);
      look({household, reference_of(household), forecast, snapshot->record.reminders}, store_, now);
    } catch (const std::exception& error) {
      spdlog::warn("reminders of a household: {}", error.what());
    }
  }
}

/// A push service that cannot be reached is asked once a round, not once a phone.
void Round::send_waiting() {
  std::set<std::string> silent;
  for (const auto& waiting : store_.waiting(households_.clock().now(), at_a_time)) {
    const auto& [account, topic, payload, urgent, expires_at, next_at] = waiting.message;
    const Instant now = households_.clock().now();
    const auto origin = origin_of(waiting.to.endpoint);
    Sent sent;
    if (silent.count(origin) == 0) {
      sent = sender_.send({waiting.to.endpoint,
                           {waiting.to.public_key, waiting.to.auth_secret},
                           payload,
                           topic,
                           urgent,
                           std::max(expires_at - now, seconds(0))},
                          now);
    }
    spdlog::info("push: {}", sent.why.empty() ? "waits: its service does not answer" : sent.why);
    switch (sent.is) {
      case Sent::Is::taken:
        store_.sent(waiting, now);
        break;
      case Sent::Is::gone:
        store_.end_subscription(account);
        break;
      case Sent::Is::refused:
        store_.drop(waiting.id);
        break;
      case Sent::Is::later:
        if (sent.status == 0) silent.insert(origin);
        store_.try_again(waiting.id, now + pause_after(waiting.attempts, sent.retry_after));
        break;
    }
    const std::lock_guard lock(mutex_);
    if (ending_) return;
  }
}

}  // namespace cellarer::reminders
