// SPDX-License-Identifier: MIT
#pragma once
#include "tests/bench/faults/fault_figures.hpp"

namespace cellarer::bench {

/// Three further ways in which a fault shows, beside the step of fault_figures.hpp. How soon they are found has no
/// target of its own. Nothing is looked at, so the cause of a drift or an asymmetry cannot be told.
///
///   drift      use of a side that grows by 10 % in 90 days, after ten earlier sets: found within so many sets of it
///   asymmetry  a side that uses 35 % more from its first set on (natural differences of sides and channels are 9 %)
///   unit       one that draws 15 % more, on both sides, in three homes with two sets a side each after ten earlier
///              ones; and a healthy one that moved likewise
struct FurtherFigures {
  Share drift_within_8, drift_within_12;
  Share asymmetry_within_4, asymmetry_within_8;
  Share drift_called_so, asymmetry_called_so;      ///< of the homes in which one was found: by its kind
  Share drift_cannot_tell, asymmetry_cannot_tell;  ///< of the same: no cause is named
  Share units_found, false_units;
};

inline constexpr int unit_homes = 3;

FurtherFigures try_further(const FaultTrialSize& size, const Done& done);
double work_of_further(const FaultTrialSize& size);

/// The homes in which one unit was, one after the other.
std::vector<review::HouseholdHistory> homes_of_unit(const FaultWorld& world, bool bad, std::uint64_t seed, int unit);

std::string shared_unit_name(int unit);

}  // namespace cellarer::bench
