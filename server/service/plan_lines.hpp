// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <set>
#include <string>
#include <vector>

#include "server/service/planner_desk.hpp"

/// What households get on each round: by a draft, and as it was confirmed. Both in one form, so that they can be
/// compared.
namespace cellarer::service {

using Lines = std::vector<DeliveryLine>;                              ///< of one household, by item
using ByRound = std::map<std::string, std::map<std::string, Lines>>;  ///< by round and reference of the household

/// What the draft brings.
ByRound planned_lines(const PlanDraft& draft);
/// What was confirmed when the draft was made.
ByRound confirmed_lines(const PlanDraft& draft);

}  // namespace cellarer::service
