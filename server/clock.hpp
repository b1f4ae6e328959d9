// SPDX-License-Identifier: MIT
#pragma once
#include <atomic>

#include "model/quantities/time.hpp"

namespace cellarer {

/// The one place that knows what time it is. Everything below the service takes an `Instant` instead.
/// Thread-safe.
class Clock {
 public:
  virtual ~Clock() = default;
  virtual Instant now() const = 0;
};

/// The machine's clock.
class SystemClock final : public Clock {
 public:
  Instant now() const override;
};

/// Stands still until it is moved: for tests.
class FakeClock final : public Clock {
 public:
  explicit FakeClock(Instant start) : seconds_(start.time_since_epoch().count()) {}
  Instant now() const override { return Instant(std::chrono::seconds(seconds_.load())); }
  void set(Instant at) { seconds_ = at.time_since_epoch().count(); }
  void advance(std::chrono::seconds by) { seconds_ += by.count(); }

 private:
  std::atomic<std::int64_t> seconds_;
};

}  // namespace cellarer
