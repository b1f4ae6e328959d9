// SPDX-License-Identifier: MIT
#pragma once
#include <condition_variable>
#include <functional>
#include <memory>
#include <mutex>
#include <thread>

#include "server/push/sender.hpp"
#include "server/service/household_service.hpp"
#include "server/store/reminder_store.hpp"

namespace cellarer::reminders {

/// Goes round beside the service, on a thread of its own: looks at every household that has a phone to be pushed to,
/// hands what waits to the push services, and again after `every`, or at once when something is recorded. What fails is
/// tried again later, ever less often, until it is too late to be of use.
class Round {
 public:
  /// A household's forecast, as its page shows it.
  using Forecasts = std::function<nlohmann::json(const std::string& household)>;

  Round(service::HouseholdService& households, store::ReminderStore& store, push::Sender sender, Forecasts forecasts,
        std::chrono::seconds every);
  ~Round();
  Round(const Round&) = delete;
  Round& operator=(const Round&) = delete;

  /// From any thread: goes round now.
  void wake();

 private:
  void loop();
  void look_at_all();
  void send_waiting();

  service::HouseholdService& households_;
  store::ReminderStore& store_;
  push::Sender sender_;
  Forecasts forecasts_;
  std::chrono::seconds every_;
  std::mutex mutex_;
  std::condition_variable wakes_;
  bool woken_ = false, ending_ = false;
  std::unique_ptr<service::Changes::Listening> listening_;
  std::thread thread_;
};

/// How long to wait before the next attempt, after so many: from ten seconds to a quarter of an hour; what the push
/// service asked for, up to an hour, where that is longer.
std::chrono::seconds pause_after(int attempts, std::optional<std::chrono::seconds> asked);

}  // namespace cellarer::reminders
