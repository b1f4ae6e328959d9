// SPDX-License-Identifier: MIT
#pragma once
#include <optional>

#include "model/rounds/draft.hpp"

/// The whole way from the grid to a draft, for each part of the agency that shares no round with another:
///   1. everybody's own best visits: if they fit, nothing can be better;
///   2. the fewest visits of everybody, put into rounds by one min-cost flow (each visit anywhere where some plan of
///      fewest visits has it): if the answer leaves no gap, it is exact, confirmed stops included;
///   3. otherwise negotiation from that flow's question, then, if some visits must be made more, from the relaxation's
///      prices; room made by chains of exchanges, confirmed stops won back by flows over every second visit;
///   4. where it is small, branch and bound.
namespace cellarer::rounds {

struct Solved {
  Draft draft;
  std::int64_t risk_bound_ppm = 0;           ///< no plan has less, stock not looked at
  std::optional<std::int64_t> visits_bound;  ///< no plan of least risk has fewer; none: some risk is above its bound
  bool least_visits_proven = true;           ///< risk and visits equal their bounds
  bool proven = true;                        ///< and no plan of these moves fewer confirmed stops
  int parts = 0, alone = 0, by_flow = 0, repaired = 0, searched = 0;  ///< parts of the agency, by what settled them
};

Solved solve(const Grid& grid);

/// Addresses that share columns, directly or by others.
std::vector<std::vector<int>> parts_of(const Grid& grid);

}  // namespace cellarer::rounds
