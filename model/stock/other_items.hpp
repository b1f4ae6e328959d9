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

/// So many pieces at each cell change of either side (antenna tape, wipes).
struct PerCellChange {
  int amount = 1;
};

struct ItemUse {
  std::optional<ByInterval> interval;
  std::optional<PerCellChange> per_change;
};

/// `cells` is the demand of change_days.hpp: items per change share its scenarios. Interval lengths are log-normal by
/// day, rounded to the nearest day, at least one. Neither kind given: no demand.
Demand item_demand(const ItemUse& use, const Demand& cells);

}  // namespace cellarer::stock
