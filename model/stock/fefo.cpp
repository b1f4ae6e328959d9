// SPDX-License-Identifier: MIT
#include "model/stock/fefo.hpp"

#include <algorithm>
#include <cassert>
#include <tuple>

namespace cellarer::stock {

std::vector<Lot> lots_in_order(const std::vector<Line>& lines, const std::string& item, Date today,
                               int pieces_per_unit) {
  assert(pieces_per_unit >= 1);
  std::vector<Lot> lots;
  for (const Line& line : lines) {
    if (line.item != item || line.quantity <= 0) continue;
    const int last_day = line.expires ? days_between(today, last_usable_date(*line.expires)) : never_expires;
    lots.push_back({line, last_day, line.quantity / pieces_per_unit});
  }
  std::stable_sort(lots.begin(), lots.end(), [](const Lot& a, const Lot& b) {
    return std::tie(a.last_day, a.line.lot, a.line.place) < std::tie(b.last_day, b.line.lot, b.line.place);
  });
  return lots;
}

}  // namespace cellarer::stock
