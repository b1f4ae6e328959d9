// SPDX-License-Identifier: MIT
// How a lot of cells did, by the review of the homes that used it.
#include <algorithm>
#include <cmath>

#include "model/review/agency_review.hpp"
#include "model/review/finished_sets.hpp"
#include "server/household_key.hpp"
#include "server/service/lots.hpp"

namespace cellarer::service {

namespace {

/// More homes say nothing more, and take long.
constexpr std::size_t most_homes = 60;
constexpr double z95 = 1.6449;

}  // namespace

LotDid how_it_did(HouseholdService& households, const std::string& agency, const LotStory& story) {
  LotDid did;
  if (story.line.lot.item != stock::cells_item) return did;
  const Instant now = households.clock().now();
  life::LoadTables tables;
  std::vector<review::HouseholdHistory> histories;
  for (const LotHome& home : story.homes) {
    if (home.at.sets == 0) continue;
    if (histories.size() >= most_homes) break;
    const auto snapshot = households.snapshot(home.household);
    const auto name = reference_of(home.household);
    histories.push_back({name, review::finished_sets(snapshot->record.life, name, now, tables), {}, {}});
  }
  review::ReviewOptions options;
  options.spreads = review::Spreads::with_agency(*households.agencies().of(agency));
  const auto review = review::review_agency(histories, options);
  const auto found = std::find_if(review.lots.begin(), review.lots.end(),
                                  [&](const review::Pooled& one) { return one.subject == story.line.lot.lot; });
  if (found == review.lots.end() || found->sets == 0) return did;
  did.sets = found->sets;
  did.homes = found->households;
  const auto life_ratio = [&](double z) { return std::exp(-(found->pooled + z * found->pooled_sd)); };
  did.life_ratio = {life_ratio(z95), life_ratio(0), life_ratio(-z95)};
  return did;
}

}  // namespace cellarer::service
