// SPDX-License-Identifier: MIT
#pragma once
#include "model/rounds/plan.hpp"
#include "model/rounds/share.hpp"
#include "model/rounds/solve.hpp"

/// From columns back to rounds, and from what is not met to the reasons.
namespace cellarer::rounds {

/// The draft as a plan. Of rounds of one area on one date a stop goes to the one where it was confirmed, otherwise to
/// the first with room.
Plan written(const PlanInput& input, const Grid& grid, const Solved& solved, const Shares& shares);

/// Why a need is not met in time; `load`: stops by round of the input.
std::vector<Why> reasons_for(const PlanInput& input, const Need& need, const Household& household, bool stock_short,
                             const std::vector<int>& load);

}  // namespace cellarer::rounds
