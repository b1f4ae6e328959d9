// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "model/rounds/plan.hpp"

/// What would serve who is left. Computed with everybody else's visits as they stand, and none of it is kept.
namespace cellarer::rounds {

enum class RemedyKind {
  extra_stop,         ///< one stop more on a round that is full
  other_areas_round,  ///< a stop on a round of another area that has room
  extra_round,        ///< a round more in the area, on a date without one
  more_packs          ///< packs of the item, in the agency by a date
};

struct Remedy {
  RemedyKind kind = RemedyKind::extra_stop;
  std::string round;  ///< of the first two kinds
  std::string area;   ///< of the round or the extra round
  Date date;          ///< of the round; of more_packs: there by then
  std::string item;   ///< of more_packs
  int packs = 0;      ///< of more_packs: missing
  int extra_visits = 0;
  double risk_after = 0;  ///< expected shortfalls at the address with it, in time everywhere: 0
};

struct RemedyRules {
  int most = 6;              ///< remedies named for one address
  int extra_round_lead = 1;  ///< days from today to the first date on which a round can be added
};

/// For the address: every single remedy that lowers its risk, the lowest remaining risk first, then the fewest extra
/// visits, then the order of the kinds and dates. Empty if nobody there is left, or no single one helps.
std::vector<Remedy> remedies_for(const PlanInput& input, const Plan& plan, const std::string& address,
                                 const RemedyRules& rules = {});

}  // namespace cellarer::rounds
