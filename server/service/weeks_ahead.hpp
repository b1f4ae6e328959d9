// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <optional>
#include <vector>

#include "model/life/forecast.hpp"
#include "model/stock/coming_changes.hpp"
#include "model/stock/dates.hpp"
#include "server/service/household_record.hpp"

/// The changes of both sides in the next weeks, by the household's calendar. Likely, and no date to act by but the
/// first.
namespace cellarer::service {

struct ComingDate {
  Instant at;                    ///< the first is `change by`; of the others a changing time of the likely day
  stock::Date earliest, latest;  ///< as coming_changes.hpp has it; of the first never later than `change by`
};

/// By slot(side).
using WeeksAhead = std::array<std::vector<ComingDate>, 2>;
using Outlooks = std::array<std::optional<stock::SideOutlook>, 2>;
constexpr std::size_t slot(Side side) { return side == Side::left ? 0 : 1; }

/// A side that was warned of, or whose `change by` has passed, has none: what is to be done comes first, and its next
/// date would be read as an answer (DEVELOPERS.md, 9.3 and 9.4). Nor has one without a forecast.
WeeksAhead weeks_ahead(const HouseholdRecord& record, const life::HouseholdForecast& forecast,
                       const Outlooks& outlooks);

}  // namespace cellarer::service
