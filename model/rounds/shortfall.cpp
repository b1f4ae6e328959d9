// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>

#include "model/rounds/share.hpp"

namespace cellarer::rounds {

std::int64_t risk_of_short_stock_ppm(const PlanInput& input) {
  if (!input.lots) return 0;
  struct OfItem {
    long there = 0, wanted = 0;
    std::vector<std::pair<double, long>> needs;  ///< risk a pack, packs
  };
  const Date end = last_date(input);
  std::map<std::string, OfItem> items;
  for (const AgencyLot& lot : *input.lots) {
    const bool out = lot.recalled || (lot.arrives && *lot.arrives > end) ||
                     (lot.expires && stock::last_usable_date(*lot.expires) < input.today);
    if (!out) items[lot.item].there += lot.packs;
  }
  for (const Household& household : input.households)
    for (const Need& need : household.needs) {
      const std::int64_t never = risk_ppm(need, end);
      if (never == 0) continue;
      OfItem& item = items[need.item];
      item.wanted += need.packs;
      item.needs.emplace_back(static_cast<double>(never) / need.packs, need.packs);
    }
  double risk = 0;
  for (auto& [name, item] : items) {
    std::sort(item.needs.begin(), item.needs.end());
    long missing = item.wanted - item.there;
    for (const auto& [a_pack, packs] : item.needs) {
      if (missing <= 0) break;
      risk += a_pack * static_cast<double>(std::min(missing, packs));
      missing -= packs;
    }
  }
  return static_cast<std::int64_t>(std::ceil(risk - 1e-6));
}

}  // namespace cellarer::rounds
