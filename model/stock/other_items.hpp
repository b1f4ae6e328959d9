// SPDX-License-Identifier: MIT
#pragma once
#include <optional>

#include "model/stock/renewal.hpp"

/// Demand for what is not cells: by interval, by cell change, or both.
namespace cellarer::stock {

/// One piece (or `amount`) every so many days.
struct ByInterval {
  double every_days = 30;     ///< mean interval, 1 or more
  double relative_sd = 0.15;  ///< of one interval (people do not change tape by the clock), 0 or more
  int amount = 1;             ///< pieces each time
  /// 0 or more; at least the interval: due today. None: not known, so that every day of the interval is as likely
  /// (the stationary distribution, P(interval > d) / mean).
  std::optional<double> days_since_last = std::nullopt;
};

/// So many pieces at each cell change of either side (antenna tape, wipes). A part of a piece, 0.1 for a roll that
/// serves ten changes, is used up in that many changes: by interval then, with the mean that the changes' own pace
/// gives
///     1 / (part sum over sides of 1 / mean life),
/// counted from an unknown day, since nobody notes how much of a roll is left.
struct PerCellChange {
  double pieces = 1;  ///< 0 or more
};

struct ItemUse {
  std::optional<ByInterval> interval;
  std::optional<PerCellChange> per_change;
};

/// `cells` is the demand of change_days.hpp: items per change share its scenarios. Interval lengths are log-normal by
/// day, rounded to the nearest day, at least one. Neither kind given: no demand.
Demand item_demand(const ItemUse& use, const Demand& cells);

}  // namespace cellarer::stock
