// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "model/life/forecast.hpp"

namespace cellarer::review {

/// What a new profile would do to a running forecast of one side.
struct ProfileEffect {
  Side side = Side::left;
  std::optional<Instant> change_by_before, change_by_after;
  /// No `change by` may move later for cells that are already in: such a profile waits for the next change.
  bool later() const { return change_by_before && (!change_by_after || *change_by_after > *change_by_before); }
  bool moves() const { return change_by_before != change_by_after; }
};

/// Both sides of a household, forecast as it is and with the stimulator of this serial replaced. Two forecasts.
std::vector<ProfileEffect> effect_of_profile(const life::Household& household, const std::string& serial,
                                             const duty::Stimulator& profile, Instant as_of);

/// The same with the profile of a cell type replaced.
std::vector<ProfileEffect> effect_of_profile(const life::Household& household, const cell::Profile& profile,
                                             Instant as_of);

/// The forecast with new profiles; but of a side whose cells went in before `approved` the one with old profiles, where
/// that changes sooner. So a new profile moves `change by` of cells that are in to the safer side alone.
life::HouseholdForecast never_later(life::HouseholdForecast with_new, const life::HouseholdForecast& with_old,
                                    Instant approved);

}  // namespace cellarer::review
