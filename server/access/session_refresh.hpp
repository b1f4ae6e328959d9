// SPDX-License-Identifier: MIT
#pragma once
#include <condition_variable>
#include <mutex>
#include <thread>

#include "server/access/sessions.hpp"

namespace cellarer::access {

/// Keeps the sessions in memory fresh beside the service: every two seconds, so that what `cellarer account end` does
/// in another process takes effect. At its end the store is told who was seen last.
class SessionRefresh {
 public:
  explicit SessionRefresh(Sessions& sessions) : sessions_(sessions), thread_([this] { loop(); }) {}
  ~SessionRefresh();
  SessionRefresh(const SessionRefresh&) = delete;
  SessionRefresh& operator=(const SessionRefresh&) = delete;

 private:
  void loop();
  void refresh(bool all_seen);

  Sessions& sessions_;
  std::mutex mutex_;
  std::condition_variable ends_;
  bool ending_ = false;
  std::thread thread_;
};

}  // namespace cellarer::access
