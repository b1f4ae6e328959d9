// SPDX-License-Identifier: MIT
#pragma once
#include <array>

#include "model/life/forecast.hpp"
#include "model/stock/ledger.hpp"
#include "server/service/household_record.hpp"

/// What a recalled lot does to one home's forecast. What its cells hold is no longer counted on, whatever they hold:
/// hours, nights and reasons stay what they were, and the date moves to the next changing time.
namespace cellarer::service {

/// The lot in a side is called back.
struct RecalledInSide {
  std::string lot;
  Instant since;
  bool sets_change_by = false;  ///< the side's `change_by` is that of the recall, not of the cells
};

/// By side, left first; none where its lot is not recalled, or not recorded.
using RecalledSides = std::array<std::optional<RecalledInSide>, 2>;

/// Puts `change_by` of a side that holds a recalled lot to the first changing time after the recall (or after the cells
/// went in), where that is the earlier one, and its phrase accordingly. A date of the set: it stays when it has passed.
/// After the unit's own word, and without a forecast, there is no date to move; the recall is told all the same.
RecalledSides heed_recalls(const HouseholdRecord& record, life::HouseholdForecast& forecast);

bool is_recalled(const HouseholdRecord& record, const stock::Line& line, Instant at);

/// The books without what is of recalled lots: it is there, and not usable.
stock::Stock usable_of(const HouseholdRecord& record, stock::Stock books, Instant as_of);
/// What is there of them.
std::vector<stock::Line> recalled_of(const HouseholdRecord& record, const stock::Stock& books, Instant as_of);

}  // namespace cellarer::service
