// SPDX-License-Identifier: MIT
#pragma once
#include <atomic>
#include <chrono>
#include <cstdint>
#include <limits>

namespace cellarer::http {

/// How long one connection may take with what it is at. Setting it is one store into memory, because that is done
/// several times with each request; a timer of its own would cost more than the request. The server looks at those of
/// all connections ten times a second. Set on the connection's strand, looked at from any thread.
class Deadline {
 public:
  using Clock = std::chrono::steady_clock;

  void start(std::chrono::milliseconds time) { due_ = (Clock::now() + time).time_since_epoch().count(); }
  void end() { due_ = never; }
  bool is_over(Clock::time_point now) const { return now.time_since_epoch().count() >= due_; }

 private:
  static constexpr std::int64_t never = std::numeric_limits<std::int64_t>::max();
  std::atomic<std::int64_t> due_{never};
};

}  // namespace cellarer::http
