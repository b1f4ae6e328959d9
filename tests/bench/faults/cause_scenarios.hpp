// SPDX-License-Identifier: MIT
#pragma once
#include "tests/bench/faults/fault_figures.hpp"

namespace cellarer::bench {

inline constexpr int lot_homes = 6;

/// The options that an agency would have learnt from twenty healthy homes of this world.
review::ReviewOptions options_learnt_in(const FaultWorld& world, const FaultTrialSize& size, std::uint64_t apart);

/// Runs `one` for each number below `homes`, on all cores. What it writes to is its own care.
void each_home(int homes, const std::function<void(int)>& one);

std::string shared_lot_name(int lot);

/// Six homes with two sets (one a side) of one lot each, after ten earlier sets a side of other lots; the lot short by
/// such a share, 0: healthy.
std::vector<review::HouseholdHistory> homes_of_lot(const FaultWorld& world, double short_by, std::uint64_t seed,
                                                   int lot);
inline constexpr double short_lot = 0.12;

/// Which cause is named of use up 10 %, twelve sets a side after it began. Where the evidence allows: the settings were
/// read off (to 1 %); the unit was measured before and after (to 1.5 %); hours were noted (to 2.5 %); every other set
/// was read by a meter (twenty sets); the lot is in five other homes. Where it does not: a fault of one side, the same
/// unit, the same lot, the same gauge, nothing looked at.
void try_causes(FaultFigures& figures, const FaultTrialSize& size, const Done& done);
double work_of_causes(const FaultTrialSize& size);

}  // namespace cellarer::bench
