// SPDX-License-Identifier: MIT
#include "model/rounds/needs.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace cellarer::rounds {

std::vector<Need> needs_of(const ItemOutlook& outlook, Date today, const NeedRules& rules) {
  assert(outlook.units_per_pack >= 1 && outlook.usable_units >= 0);
  const int days = static_cast<int>(outlook.used.size());
  const auto above = [&](int day, long long units) {
    return stock::probability_above(outlook.used[static_cast<std::size_t>(day)], units);
  };
  const int storage = std::max(outlook.storage_units, outlook.units_per_pack);
  std::vector<Need> needs;
  for (long long there = outlook.usable_units;; there += outlook.units_per_pack) {
    int first_without = 0;
    while (first_without < days && above(first_without, there) <= 1 - rules.service_level + 1e-12) ++first_without;
    if (first_without == days) return needs;
    const int deliver_by = std::max(first_without - 1, 0);
    int earliest = 0;
    while (earliest < deliver_by && above(earliest, there + outlook.units_per_pack - storage - 1) < rules.room_level)
      ++earliest;
    Need need{outlook.item, 1, stock::days_after(today, earliest), stock::days_after(today, deliver_by), {}, {}};
    double last = -1;
    for (int day = deliver_by + 1; day < days; ++day) {
      const double risk = std::min(1.0, std::ceil(above(day, there) * 1000 - 1e-9) / 1000);
      if (risk > last) need.risk.push_back({stock::days_after(today, day), last = risk});
    }
    needs.push_back(std::move(need));
  }
}

}  // namespace cellarer::rounds
