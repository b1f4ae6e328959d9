// SPDX-License-Identifier: MIT
#include "model/stock/stay.hpp"

#include <algorithm>
#include <array>
#include <cassert>

#include "model/stock/fefo.hpp"

namespace cellarer::stock {
namespace {

/// Takes whole units from the lines that stay usable to the last day, in the order in which they expire.
void take_from(Packing& packing, const Stock& stock, int pieces_per_unit, Date today, int last_day) {
  int wanted = packing.units;
  for (const Lot& lot : lots_in_order(stock.lines, packing.item, today, pieces_per_unit)) {
    if (lot.last_day < last_day) continue;
    const int units = std::min(wanted, lot.units);
    if (units == 0) continue;
    packing.take.push_back(lot.line);
    packing.take.back().quantity = units * pieces_per_unit;
    wanted -= units;
  }
  packing.missing_pieces = wanted * pieces_per_unit;
}

}  // namespace

Packing pack(const std::string& item, const Stock& stock, const Demand& demand, Date today, Date from, Date to,
             const PackPolicy& policy) {
  assert(policy.service_level > 0 && policy.service_level < 1 && policy.spare_units >= 0);
  const int first_day = std::max(0, days_between(today, from));
  const int last_day = std::min(demand.days - 1, days_between(today, to));

  Packing packing;
  packing.item = item;
  int needed = 0;
  CountPmf used{1.0};
  if (first_day <= last_day) {
    used = used_until(demand, std::array{last_day}, first_day - 1).front();
    needed = smallest_covering(used, policy.service_level);
  }
  packing.units = needed + policy.spare_units;
  packing.pieces = packing.units * demand.pieces_per_unit;
  packing.odds_unspared = 1 - probability_above(used, needed);
  packing.odds = 1 - probability_above(used, packing.units);
  take_from(packing, stock, demand.pieces_per_unit, today, days_between(today, to));
  return packing;
}

}  // namespace cellarer::stock
