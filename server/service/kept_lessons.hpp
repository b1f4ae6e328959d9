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
    return kept_ ? std::exchange(kept_, nullptr) : std::make_unique<life::Learned>();
  }
  void put_back(std::unique_ptr<life::Learned> learned) {
    const std::lock_guard lock(mutex_);
    kept_ = std::move(learned);
  }

 private:
  std::mutex mutex_;
  std::unique_ptr<life::Learned> kept_;
};

}  // namespace cellarer::service
