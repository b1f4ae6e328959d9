// SPDX-License-Identifier: MIT
#include "model/review/charge_left.hpp"

#include <algorithm>

#include "model/life/lessons.hpp"

namespace cellarer::review {

namespace {

double left_of(double given_mAh, double whole_mAh) {
  return whole_mAh > 0 ? std::clamp(1 - given_mAh / whole_mAh, 0.0, 1.0) : 0;
}

int cells_of(const life::Household& household, const life::Stint& stint) {
  const auto unit = life::unit_in_use(household, stint.in.at);
  return unit ? household.units[*unit].stimulator.cells_in_series : ChargeLeft{}.cells;
}

std::optional<ChargeLeft> charge_left(const life::Household& household, Side side, const life::Stint& stint,
                                      const life::Learning& learning, life::LoadTables& tables) {
  ChargeLeft left;
  left.side = side;
  left.from = stint.in.at;
  left.to = stint.out->at;
  left.ended = stint.out->reason;
  left.cells = cells_of(household, stint);
  if (left.ended == life::ChangeReason::ran_out) return left;
  // What may teach is what is known well enough; a fault's set is looked at all the same.
  auto known = stint;
  if (left.ended == life::ChangeReason::fault) known.out->reason = life::ChangeReason::unknown;
  if (!life::may_teach(household, side, known)) return std::nullopt;
  const life::Course course(household, side, left.from, left.to);
  const double given_mAh = course.charge_mAh(course.to());
  if (given_mAh <= 0) return std::nullopt;
  const auto& cell = *life::cells_in_side(household, stint.in.cells).profile;
  life::SetStorySetup setup;
  setup.course = &course;
  setup.cell = &cell;
  setup.tables = &tables;
  setup.prior = learning.prior(course, cell, life::storage(stint.in.cells.expires, stint.in.at).log_sd);
  const auto story =
      life::follow(setup, stint);  // of a set that is out only the posterior tells when it would have ended
  const auto cutoff = story.posterior->cutoff();
  left.share = {left_of(given_mAh, cutoff.charge(0.05)), left_of(given_mAh, cutoff.charge(0.50)),
                left_of(given_mAh, cutoff.charge(0.95))};
  return left;
}

}  // namespace

ChargesLeft charges_left(const life::Household& household, Instant since, Instant as_of, life::LoadTables& tables) {
  ChargesLeft all;
  const std::array<std::vector<life::Stint>, 2> sides{life::stints(household, Side::left, as_of),
                                                      life::stints(household, Side::right, as_of)};
  const auto learning = life::learn_from(household, sides, tables);
  for (const Side side : both_sides) {
    for (const auto& stint : sides[side == Side::left ? 0 : 1]) {
      if (!stint.out || stint.out->at < since) continue;
      if (auto left = charge_left(household, side, stint, learning, tables)) {
        all.sets.push_back(*left);
      } else {
        ++all.unknown;
        all.unknown_cells += cells_of(household, stint);
      }
    }
  }
  std::stable_sort(all.sets.begin(), all.sets.end(),
                   [](const ChargeLeft& a, const ChargeLeft& b) { return a.to < b.to; });
  return all;
}

}  // namespace cellarer::review
