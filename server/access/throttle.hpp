// SPDX-License-Identifier: MIT
#pragma once
#include <mutex>
#include <optional>
#include <string>
#include <unordered_map>

#include "server/clock.hpp"

namespace cellarer::access {

/// Attempts to come in, counted by address: twenty at once, then ten a minute; one that succeeds does not count. An
/// IPv6 address counts as its network of 64 bits. A phone that is signed in never meets this: its requests attempt
/// nothing. Where more addresses than can be held attempt at once, those beyond share one count. Thread-safe and short.
class Throttle {
 public:
  explicit Throttle(const Clock& clock) : clock_(clock) {}

  /// Counts an attempt; or how many seconds it has to wait.
  std::optional<int> attempt(const std::string& address);
  /// It succeeded: not counted.
  void forgive(const std::string& address);

 private:
  struct Bucket {
    double left = 0;
    Instant at = {};
  };
  Bucket& bucket_of(const std::string& address, Instant now);

  const Clock& clock_;
  std::mutex mutex_;
  std::unordered_map<std::string, Bucket> buckets_;
  std::optional<Bucket> rest_;
};

}  // namespace cellarer::access
