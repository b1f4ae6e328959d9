// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "model/rounds/draft.hpp"

/// Who gets what from the agency's stock, once the visits stand.
///
/// Packs of a lot can go out on a round that is not before the lot's arrival, to a need that does not outlast its
/// expiry; recalled lots are out. Taken in the order of dates, each need from the lots that expire first: if all needs
/// can be met at all, that way meets them (exchange argument: two needs that swap lots so that the earlier one has the
/// earlier expiry both keep a lot that serves them). If not, the needs that avoid most risk a pack come first.
/// A set is never of two lots: of every lot but the last of a need whole sets are taken.
namespace cellarer::rounds {

struct Part {
  int lot = 0;  ///< of the input
  int packs = 0;
};

/// One need and how it fares. Needs of which no visit can meet any are in it too.
struct Serving {
  int address = 0;  ///< of the grid
  int household = 0, need = 0;
  int visit = -1;            ///< column of the address; -1: not met
  bool stock_short = false;  ///< with more packs it could be met, or met earlier
  std::vector<Part> parts;   ///< empty without stock
};

struct Shares {
  std::vector<Serving> servings;  ///< of every need, by address
  std::int64_t risk_ppm = 0;      ///< of all
  bool short_of_stock = false;    ///< some visit could have met more
  bool proven = true;             ///< no other sharing among these visits has less risk
  Shortage shortage;              ///< what the next grid should know: needs left out, or to wait for a lot
};

/// Shares for the visits of the whole draft. Without `input.lots` every need is met at its first visit.
Shares share_out(const PlanInput& input, const Grid& grid, const Draft& draft);

/// A risk that no plan can be below, for want of packs alone: of every item the packs that will not be there within the
/// horizon, taken from the needs that risk least a pack, the last of them in part (fractional knapsack; Dantzig 1957).
/// Arrivals within the horizon and expiries to come are taken as no hindrance.
std::int64_t risk_of_short_stock_ppm(const PlanInput& input);

}  // namespace cellarer::rounds
