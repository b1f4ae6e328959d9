// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>
#include <vector>

/// Who goes where, exactly: a min-cost flow from visits over columns to the sink (LEMON's network simplex; Kiraly and
/// Kovacs, Efficient implementations of minimum-cost flow algorithms, Acta Univ. Sapientiae Informatica 4, 2012).
///
///     visit --(1, cost)--> column --(limit, 0)--> sink,      visit --(1, unplaced)--> sink
namespace cellarer::rounds {

struct Choice {
  int column = 0;
  std::int64_t cost = 0;
};

struct Flow {
  std::vector<int> column;           ///< by visit; -1: no room
  std::vector<std::int64_t> prices;  ///< by column, 0 or more: what one place more on it would save (dual solution)
  std::int64_t cost = 0;
  int unplaced = 0;
};

/// `unplaced_cost` above every sum of costs places as many as there is room for. Exact; integers in, integers out.
Flow assign(const std::vector<std::vector<Choice>>& visits, const std::vector<int>& limits, std::int64_t unplaced_cost);

}  // namespace cellarer::rounds
