// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "model/stock/change_days.hpp"

/// The changes of one side in the next weeks, for people to see coming: likely days, which move with every record.
///
/// Nothing here is a date to act by. That is the first one alone, `change by`, which stands as it is: its likely day
/// and its latest one. The others are those of the demand for cells (change_days.hpp): with f_1 = first and f_k =
/// f_(k-1) * next in each scenario (renewal.hpp), mixed by the scenarios' weights, the likely day is the median of f_k,
/// and the range its share in the middle. Each is less sure than the one before, as spreads add. All err to the early
/// side as the plan of a fresh set does, which knows nothing yet of the readings that will let it run longer.
namespace cellarer::stock {

/// Days from today; earliest <= likely <= latest.
struct ComingChange {
  int earliest_day = 0, likely_day = 0, latest_day = 0;
  bool operator==(const ComingChange&) const = default;
};

struct ComingWeeks {
  int days = 42;       ///< changes that are likely before this day
  int most = 4;        ///< of one side
  double share = 0.8;  ///< of the changes falls on a day of the range; 0 to 1
};

/// In order, each likely later than the one before. `visit_days` (in order) are days after `change by` on which fresh
/// cells are wanted whatever is left: such a day is certain, and the changes after it are counted from there.
/// A range that reaches beyond twice `weeks.days` ends there.
std::vector<ComingChange> coming_changes(const SideOutlook& side, const ChangeHabit& habit,
                                         const std::vector<int>& visit_days = {}, const ComingWeeks& weeks = {});

}  // namespace cellarer::stock
