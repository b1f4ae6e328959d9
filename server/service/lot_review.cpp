// SPDX-License-Identifier: MIT
#include "server/service/lot_review.hpp"

#include <algorithm>
#include <cmath>

namespace cellarer::service {

namespace {

/// More homes say nothing more, and take long.
constexpr std::size_t most_homes = 60;
constexpr double z95 = 1.6449;

}  // namespace

LotDid how_it_did(ReviewBook& reviews, const LotStory& story, std::chrono::milliseconds at_most) {
  const auto end = std::chrono::steady_clock::now() + at_most;
  LotDid did;
  if (story.line.lot.item != stock::cells_item) return did;
  Common knowledge;
  ReviewedHomes homes;
  review::Histories histories;
  for (const LotHome& home : story.homes) {
    if (home.at.sets == 0) continue;
    const bool too_long = !histories.empty() && std::chrono::steady_clock::now() > end;
    if (histories.size() >= most_homes || too_long) {
      did.cut = true;
      break;
    }
    homes.push_back(reviews.home(home.household));
    histories.push_back(&homes.back()->history);
    knowledge = homes.back()->agency;
  }
  if (histories.empty()) return did;
  review::ReviewOptions options;
  options.spreads = review::Spreads::with_agency(*knowledge);
  const auto lots = review::review_lots(histories, options);
  const auto found = std::find_if(lots.begin(), lots.end(),
                                  [&](const review::Pooled& one) { return one.subject == story.line.lot.lot; });
  if (found == lots.end() || found->sets == 0) return did;
  did.sets = found->sets;
  did.homes = found->households;
  const auto life_ratio = [&](double z) { return std::exp(-(found->pooled + z * found->pooled_sd)); };
  did.life_ratio = {life_ratio(z95), life_ratio(0), life_ratio(-z95)};
  return did;
}

}  // namespace cellarer::service
