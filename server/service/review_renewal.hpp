// SPDX-License-Identifier: MIT
#pragma once
#include <atomic>
#include <thread>

#include "server/service/profile_effects.hpp"
#include "server/service/review_book.hpp"

namespace cellarer::service {

/// Renews the reviews beside the service, and works out whose dates a proposed profile would move: from its
/// construction to its end. Of agencies that somebody asked about lately: a few seconds after entries changed, and
/// never more than a tenth of the time; at once, and never more than half of the time, where somebody has asked and
/// waits. Of the others: once a day.
class ReviewRenewal {
 public:
  ReviewRenewal(ReviewBook& book, EffectBook& effects);
  ~ReviewRenewal();
  ReviewRenewal(const ReviewRenewal&) = delete;
  ReviewRenewal& operator=(const ReviewRenewal&) = delete;

 private:
  void run();
  std::size_t renew_asked();
  std::size_t renew_next();

  ReviewBook& book_;
  EffectBook& effects_;
  using Moment = std::chrono::steady_clock::time_point;
  Moment rested_{}, next_asked_{}, next_other_{};  ///< not before these
  std::atomic<bool> ending_{false};
  std::thread thread_;
};

}  // namespace cellarer::service
