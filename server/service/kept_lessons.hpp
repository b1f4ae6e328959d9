// SPDX-License-Identifier: MIT
#pragma once
#include <memory>
#include <mutex>
#include <utility>

#include "model/life/learned.hpp"

namespace cellarer::service {

/// What was learned of one home, kept between its forecasts (model/life/learned.hpp): a page, the planner's row and the
/// agency's learning all ask for the same. Who computes takes it out and puts it back, so that nobody waits for
/// another; of two who compute at one time the second learns it all by himself. From any thread.
class KeptLessons {
 public:
  /// Never null: an empty one where nothing is kept.
  std::unique_ptr<life::Learned> take() {
    const std::lock_guard lock(mutex_);
    auto taken = kept_ ? std::exchange(kept_, nullptr) : std::make_unique<life::Learned>();
    taken->keep_running(keeps_running_);
    return taken;
  }
  void put_back(std::unique_ptr<life::Learned> learned) {
    const std::lock_guard lock(mutex_);
    kept_ = std::move(learned);
    kept_->keep_running(keeps_running_);
  }
  /// Whether the sets that are in are kept too: for a home of which something is being recorded (recent_homes.hpp).
  void keep_running(bool kept) {
    const std::lock_guard lock(mutex_);
    keeps_running_ = kept;
    if (kept_) kept_->keep_running(kept);
  }

 private:
  std::mutex mutex_;
  std::unique_ptr<life::Learned> kept_;
  bool keeps_running_ = false;
};

}  // namespace cellarer::service
