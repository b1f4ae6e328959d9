// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "model/rounds/records.hpp"
#include "model/stock/pmf.hpp"

/// From use to windows: what a household needs until when, whatever rounds there will be.
///
/// Let N(d) be the units used up to and including day d (0 is today), S_0 the usable units in the house, u the units of
/// a pack, C the most that the house keeps. The k-th pack to come, k = 1, 2, ...
///     must be there before the first day with  P(N(d) > S_0 + (k - 1) u) > 1 - level        (deliver by: the day
///     before) has room from the first day with         P(N(d) >= S_0 + k u - C) >= room_level       (earliest)
/// Neither depends on when the packs before it come, only on their number. So both dates grow with k, and dates of
/// visits keep a household above its service level and within its storage exactly if every window [earliest, deliver
/// by] holds a visit: at each, the packs whose window holds the date and that did not come before. That is the problem
/// of stabbing intervals with the fewest points, one household by one, and rounds couple them through their limits.
namespace cellarer::rounds {

struct ItemOutlook {
  std::string item;
  int usable_units = 0;               ///< whole sets of cells, or pieces of other items, in the house today
  int units_per_pack = 1;             ///< whole sets of a pack (an odd cell counts as none), above 0
  int storage_units = 0;              ///< the most that the house keeps; taken as at least one pack
  std::vector<stock::CountPmf> used;  ///< by day: stock::used_by_day()
};

struct NeedRules {
  double service_level = 0.999;
  double room_level = 0.5;  ///< room that is there in half of all cases counts: too much in the house harms nobody
};

/// The packs whose first day without them falls into the days of `used`, in order of k. One that is overdue has the
/// window of today alone. The risk follows P(N(d) > S_0 + (k - 1) u) by day, rounded up to the thousandth.
std::vector<Need> needs_of(const ItemOutlook& outlook, Date today, const NeedRules& rules = {});

}  // namespace cellarer::rounds
