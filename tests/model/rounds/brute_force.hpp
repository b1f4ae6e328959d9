// SPDX-License-Identifier: MIT
#pragma once
#include <tuple>

#include "model/rounds/records.hpp"

/// Every plan of a small agency, one by one, by the definition in plan.hpp and nothing else of the room.
namespace cellarer::rounds::testing {

/// Risk in millionths, visits, confirmed stops that are not in the plan: of the best plan there is.
using Merit = std::tuple<long, long, long>;

Merit best_of_all_plans(const PlanInput& input);

}  // namespace cellarer::rounds::testing
