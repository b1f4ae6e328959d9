// SPDX-License-Identifier: MIT
#include "server/access/session_refresh.hpp"

#include <spdlog/spdlog.h>

namespace cellarer::access {

namespace {
constexpr auto every = std::chrono::seconds(2);
}

SessionRefresh::~SessionRefresh() {
  {
    const std::lock_guard lock(mutex_);
    ending_ = true;
  }
  ends_.notify_one();
  thread_.join();
}

/// A store that fails for a while leaves the sessions as they were.
void SessionRefresh::refresh(bool all_seen) {
  try {
    sessions_.refresh(all_seen);
  } catch (const std::exception& error) {
    spdlog::warn("refreshing sessions: {}", error.what());
  }
}

void SessionRefresh::loop() {
  std::unique_lock lock(mutex_);
  while (!ends_.wait_for(lock, every, [this] { return ending_; })) {
    lock.unlock();
    refresh(false);
    lock.lock();
  }
  refresh(true);
}

}  // namespace cellarer::access
