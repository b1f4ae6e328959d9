// SPDX-License-Identifier: MIT
#include "model/review/profile_effect.hpp"

namespace cellarer::review {

namespace {

std::vector<ProfileEffect> compare(const life::Household& before, const life::Household& after, Instant as_of) {
  const auto old_one = life::forecast(before, as_of), new_one = life::forecast(after, as_of);
  std::vector<ProfileEffect> effects;
  effects.reserve(both_sides.size());
  for (const auto side : both_sides)
    effects.push_back({side, old_one.side(side).change_by, new_one.side(side).change_by});
  return effects;
}

}  // namespace

life::HouseholdForecast never_later(life::HouseholdForecast with_new, const life::HouseholdForecast& with_old,
                                    Instant approved) {
  for (const auto side : both_sides) {
    auto& made = with_new.sides[side == Side::left ? 0 : 1];
    const auto& old = with_old.side(side);
    const bool in_before = old.cells_since && *old.cells_since < approved;
    if (in_before && ProfileEffect{side, old.change_by, made.change_by}.later()) made = old;
  }
  return with_new;
}

std::vector<ProfileEffect> effect_of_profile(const life::Household& household, const std::string& serial,
                                             const duty::Stimulator& profile, Instant as_of) {
  auto changed = household;
  for (auto& unit : changed.units) {
    if (unit.serial == serial) unit.stimulator = profile;
  }
  return compare(household, changed, as_of);
}

std::vector<ProfileEffect> effect_of_profile(const life::Household& household, const cell::Profile& profile,
                                             Instant as_of) {
  auto changed = household;
  const auto known = changed.cell_profiles.find(profile.id);
  if (known != changed.cell_profiles.end()) known->second = profile;
  if (changed.unknown_cells && changed.unknown_cells->id == profile.id) changed.unknown_cells = profile;
  return compare(household, changed, as_of);
}

}  // namespace cellarer::review
