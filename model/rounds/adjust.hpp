// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "model/rounds/plan.hpp"

/// What it would mean to move, leave out or add one stop. Nothing is kept: the planner sees it first.
namespace cellarer::rounds {

struct Change {
  std::string address;
  std::optional<std::string> from;  ///< a stop of the plan; none: one is added
  std::optional<std::string> to;    ///< a round, of whatever area; none: it is left out
};

struct Consequence {
  /// If the change is made and nothing else.
  std::vector<Left>
      falls;  ///< who falls under the service level because of it, need by need, without reasons: it is the reason
  std::vector<Left> no_longer;   ///< who no longer does
  double risk_more = 0;          ///< expected shortfalls, beside the plan's
  bool over_the_limit = false;   ///< the round would have more stops than it may
  bool leaves_too_soon = false;  ///< the round is inside its lead time

  /// If the rest of the plan is then made anew around it, with the change as a decision.
  Plan replanned;                  ///< of the areas concerned only
  int visits_more = 0;             ///< beside the plan, the change's own included; negative: fewer
  double risk_more_replanned = 0;  ///< what no plan found around it can avoid
  std::vector<ConfirmedStop>
      moves;              ///< confirmed stops of the plan that are then not made; the change's own stop first
  std::vector<Pin> pins;  ///< to keep it: what `input.pins` must have beside what it has
};

/// Errors: std::invalid_argument if the address or a round is unknown, `from` is no stop of the plan, `to` is one
/// already, or neither is given. The areas concerned are the address's, the round's, and those tied to them by pins;
/// with stock, the packs of other areas' stops stay where they are.
Consequence consequence_of(const PlanInput& input, const Plan& plan, const Change& change);

}  // namespace cellarer::rounds
