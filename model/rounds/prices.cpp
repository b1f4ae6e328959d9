// SPDX-License-Identifier: MIT
#include "model/rounds/prices.hpp"

#include <algorithm>
#include <cmath>

#include "model/rounds/visits.hpp"

namespace cellarer::rounds {

namespace {

/// Of columns that cost the same, few: a visit counts this much beside risk, and the bound is lowered by as much for
/// every stop there could be.
constexpr double tie_ppm = 1e-3;

Visits<Weighed> at_prices(const Address& address, Priced what, const std::vector<double>& prices) {
  const bool risk = what == Priced::risk;
  const auto arc = [&](int v, int w) -> std::optional<Weighed> {
    Weighed cost{risk ? 0 : address.gap(v, w), 0, risk ? static_cast<double>(address.gap(v, w)) : 0};
    if (w < address.size())
      cost.rest +=
          (risk ? tie_ppm : 1) + prices[static_cast<std::size_t>(address.columns[static_cast<std::size_t>(w)])];
    return cost;
  };
  if (!risk)
    if (auto visits = cheapest_visits<Weighed>(address, true, arc)) return *visits;
  return *cheapest_visits<Weighed>(address, false, arc);
}

}  // namespace

Relaxation relax(const Grid& grid, const std::vector<int>& addresses, Priced what, double target, int steps) {
  std::vector<double> prices(grid.columns.size(), 0);
  Relaxation best{prices, -1};
  double length = 1;
  int without_gain = 0;
  for (int step = 0; step < steps; ++step) {
    std::vector<double> excess(grid.columns.size(), 0);
    std::vector<char> touched(grid.columns.size(), 0);
    double value = 0;
    for (int a : addresses) {
      const Address& address = grid.addresses[static_cast<std::size_t>(a)];
      const auto visits = at_prices(address, what, prices);
      value += visits.cost.rest;
      for (int column : address.columns) touched[static_cast<std::size_t>(column)] = 1;
      for (int v : visits.at) excess[static_cast<std::size_t>(address.columns[static_cast<std::size_t>(v)])] += 1;
    }
    double norm = 0;
    for (std::size_t c = 0; c < excess.size(); ++c) {
      if (!touched[c]) continue;
      value -= (prices[c] + (what == Priced::risk ? tie_ppm : 0)) * grid.columns[c].stops;
      excess[c] -= grid.columns[c].stops;
      if (prices[c] == 0 && excess[c] < 0) excess[c] = 0;
      norm += excess[c] * excess[c];
    }
    without_gain = value > best.bound + 1e-9 ? 0 : without_gain + 1;
    if (value > best.bound) best = {prices, value};
    if (norm == 0 || static_cast<double>(whole_bound(best.bound)) >= target) break;
    if (without_gain >= 8) length /= 2, without_gain = 0;
    const double stride = length * std::max(target - value, 0.01 * target) / norm;
    for (std::size_t c = 0; c < prices.size(); ++c) prices[c] = std::max(0.0, prices[c] + stride * excess[c]);
  }
  return best;
}

std::int64_t whole_bound(double bound) { return static_cast<std::int64_t>(std::ceil(bound - 1e-6)); }

}  // namespace cellarer::rounds
