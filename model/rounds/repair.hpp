// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "model/rounds/draft.hpp"

/// What is left to be won in a draft.
namespace cellarer::rounds {

/// Makes room: an address that costs more than it would alone takes its best visits even on full rounds, where what one
/// more stop costs is the cheapest way for somebody else to leave it; that one may do the same in turn, `depth` times.
/// (Shortest chains of exchanges, as in the successive shortest paths of a flow; each is carried out only if the total
/// falls.) Until nothing is won, or about `budget` visits' paths have been computed.
void make_room(const Grid& grid, const std::vector<int>& addresses, Draft& draft, long& budget, int depth = 3);

/// Every second visit of every address at once, its neighbours staying: a transport problem, solved exactly (flow.hpp)
/// for risk, then confirmed stops.
void shift(const Grid& grid, const std::vector<int>& addresses, Draft& draft);

}  // namespace cellarer::rounds
