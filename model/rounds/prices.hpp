// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <vector>

#include "model/rounds/grid.hpp"

/// The relaxation: limits on stops become prices.
///
///     L(p) = sum over addresses of  min over their visits of (visits + sum of p_c)  -  sum over columns of p_c *
///     limit_c
/// is a lower bound on the visits of every plan in which each address has the least risk it can have, for every p >= 0.
/// The largest L equals the linear relaxation's optimum, since an address's visits are a shortest path (a network
/// matrix: its linear relaxation is integral; Geoffrion, Lagrangean relaxation for integer programming, Math.
/// Programming Study 2, 1974). Found by subgradient steps of Polyak's length towards `target`; ends when L, rounded up
/// to whole visits, reaches the target. The same with risk in place of visits bounds the risk.
namespace cellarer::rounds {

struct Relaxation {
  std::vector<double> prices;  ///< by column of the grid: visits that a place on it is worth (or risk_ppm)
  double bound = 0;            ///< the largest L found
};

enum class Priced { visits, risk };

/// For the addresses named; `target`: cost of a plan that is known, or an estimate, for the length of steps.
Relaxation relax(const Grid& grid, const std::vector<int>& addresses, Priced what, double target, int steps = 120);

/// The whole number at or above the bound, forgiving rounding.
std::int64_t whole_bound(double bound);

}  // namespace cellarer::rounds
