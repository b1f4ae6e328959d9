// SPDX-License-Identifier: MIT
#pragma once
#include "server/service/lots.hpp"
#include "server/service/review_book.hpp"

namespace cellarer::service {

/// How long sets of a lot of cells lasted against what was expected of them, each against its own home and side
/// (model/review/agency_review.hpp).
struct LotDid {
  int sets = 0, homes = 0;                          ///< that say something of it
  bool cut = false;                                 ///< more homes had it than were looked at
  std::optional<std::array<double, 3>> life_ratio;  ///< observed over expected life: 5 %, half, 95 %; below 1: shorter
};

/// From the homes as the review has them, each as of its newest entry: only those that were written to since are made
/// anew, tens of milliseconds each.
/// `at_most`: what takes longer is left
/// out, and `cut` says so.
LotDid how_it_did(ReviewBook& reviews, const LotStory& story,
                  std::chrono::milliseconds at_most = std::chrono::minutes(10));

}  // namespace cellarer::service
