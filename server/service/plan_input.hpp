// SPDX-License-Identifier: MIT
#pragma once
#include <memory>
#include <string>
#include <vector>

#include "server/service/board_row.hpp"

/// From the board, the calendar and the agency's stock to what a plan is made from (model/rounds).
namespace cellarer::service {

/// A household as the planner's desk has it.
struct DeskHousehold {
  std::string household;  ///< its reference
  DeskRecord desk;
  std::shared_ptr<const Outlook> outlook;  ///< none: not computed yet
};

/// A household that no plan can hold, and what would help.
struct NotPlanned {
  std::string household, what, remedy;
};

struct PlanMaterial {
  rounds::PlanInput input;
  std::vector<NotPlanned> not_planned;
};

/// - Closed households are left out, without a word. Those without an area, in an area without rounds, or without a
///   forecast are left out and named. Of two at one stop in two areas the later is.
/// - What is under way counts as come (needs_beside); a round that is loaded takes no part any more.
/// - Decisions for rounds that are gone are forgotten.
/// problems_of() has nothing to say of what comes out.
PlanMaterial plan_material(const std::vector<DeskHousehold>& households, const BoardFrame& frame);

/// Tells two inputs apart (FNV-1a over all that a plan depends on; 64 bits): the same one, the same plan.
std::string fingerprint(const rounds::PlanInput& input);

/// The stop of a household: the agency's code, or its reference.
std::string stop_of(const DeskHousehold& household);

}  // namespace cellarer::service
