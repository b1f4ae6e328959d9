// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "model/rounds/grid.hpp"

/// A plan in the making. It keeps every limit at any time.
namespace cellarer::rounds {

struct Draft {
  std::vector<std::vector<int>> visits;  ///< by address of the grid: its columns, ascending
  std::vector<int> load;                 ///< stops by column of the grid

  explicit Draft(const Grid& grid) : visits(grid.addresses.size()), load(grid.columns.size(), 0) {}

  static int column_of(const Address& address, int visit) { return address.columns[static_cast<std::size_t>(visit)]; }
  int& load_of(const Address& address, int visit) { return load[static_cast<std::size_t>(column_of(address, visit))]; }

  const std::vector<int>& at(int a) const { return visits[static_cast<std::size_t>(a)]; }

  void put(const Grid& grid, int a, std::vector<int> to) {
    const Address& address = grid.addresses[static_cast<std::size_t>(a)];
    auto& now = visits[static_cast<std::size_t>(a)];
    for (int v : now) --load_of(address, v);
    for (int v : to) ++load_of(address, v);
    now = std::move(to);
  }
};

inline bool is_full(const Grid& grid, const Draft& draft, int column) {
  return draft.load[static_cast<std::size_t>(column)] >= grid.columns[static_cast<std::size_t>(column)].stops;
}

inline Cost cost_of(const Grid& grid, const Draft& draft, int a) {
  return cost_of(grid.addresses[static_cast<std::size_t>(a)], draft.at(a));
}

inline Cost cost_of(const Grid& grid, const Draft& draft, const std::vector<int>& addresses) {
  Cost cost;
  for (int a : addresses) cost = cost + cost_of(grid, draft, a);
  return cost;
}

}  // namespace cellarer::rounds
