// SPDX-License-Identifier: MIT
#pragma once
#include <atomic>
#include <thread>

#include "server/service/profile_effects.hpp"
#include "server/service/review_book.hpp"

namespace cellarer::service {

/// Renews the reviews beside the service, and works out whose dates a proposed profile would move: from its
/// construction to its end: a few seconds after entries changed, and never more than a tenth of the time.
class ReviewRenewal {
 public:
  ReviewRenewal(ReviewBook& book, EffectBook& effects);
  ~ReviewRenewal();
  ReviewRenewal(const ReviewRenewal&) = delete;
  ReviewRenewal& operator=(const ReviewRenewal&) = delete;

 private:
  void run();

  ReviewBook& book_;
  EffectBook& effects_;
  std::atomic<bool> ending_{false};
  std::thread thread_;
};

}  // namespace cellarer::service
