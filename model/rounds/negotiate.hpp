// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "model/rounds/draft.hpp"

/// Everybody's visits at once, limits kept in the end: rounds that are asked for too often become dearer until somebody
/// gives way (negotiated congestion; McMurchie and Ebeling, PathFinder, FPGA 1995).
///
/// Sweep by sweep each address in turn takes its cheapest visits anew, where a stop on column c costs
///     price_c + history_c + present * max(0, load_c + 1 - limit_c)
/// beside its visits; after a sweep history_c grows with the overload and present grows too.
namespace cellarer::rounds {

enum class Trade {
  never,  ///< nobody makes a visit more, whatever columns cost
  visits  ///< a visit weighs as much as a cost of 1
};

/// Ends when no round is over its limit, after `sweeps`, or after thirty of them without a smaller overload.
/// Fills the draft for these addresses; it keeps every limit. True: without anybody giving up what it could have alone
/// (with Trade::visits: no risk above it). Where an overload remains, those leave a round whom it costs least.
bool negotiate(const Grid& grid, const std::vector<int>& addresses, const std::vector<double>& prices, Trade trade,
               Draft& draft, int sweeps = 200);

}  // namespace cellarer::rounds
