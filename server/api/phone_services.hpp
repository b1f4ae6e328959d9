// SPDX-License-Identifier: MIT
#pragma once
#include <functional>
#include <string>

#include "server/access/feeds.hpp"

namespace cellarer::api {

/// What the routes of reminders work on.
struct PhoneServices {
  access::Feeds& feeds;
  store::ReminderStore& reminders;
  std::string push_key;                    ///< base64url; empty: this service pushes nothing
  std::string local_service;               ///< of a test's configuration (push/endpoint.hpp)
  std::function<void()> go_round = [] {};  ///< what is queued is sent now
};

}  // namespace cellarer::api
