// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "model/life/forecast.hpp"
#include "model/stock/change_days.hpp"
#include "model/stock/reorder.hpp"
#include "model/stock/stay.hpp"
#include "server/service/household_record.hpp"
#include "server/service/recalls.hpp"
#include "server/service/weeks_ahead.hpp"

/// The forecast of a whole household: both sides, what is in the house, and what to be careful about. A pure
/// function of the record and of a moment.
namespace cellarer::service {

struct ForecastAnswer {
  life::HouseholdForecast life;
  std::vector<stock::ItemForecast> stock;  ///< cells first, then by name
  bool stock_lasts_known = false;          ///< false: no side has a forecast, so days and dates of cells say nothing
  WeeksAhead coming;                       ///< changes of each side in the next weeks
  std::vector<std::string> cautions;
  RecalledSides recalled;                   ///< sides that hold a lot which is called back
  std::vector<stock::Line> recalled_lines;  ///< what the house has of such lots: not in `stock`
};

ForecastAnswer household_forecast(const HouseholdRecord& record, Instant as_of,
                                  life::Chart chart = life::Chart::not_wanted);

/// What will be used of an item, day by day, by a forecast that was made. No scenario with streams: nothing is known.
stock::Demand demand_of(const HouseholdRecord& record, const ForecastAnswer& answer, const std::string& item);

/// How the item is ordered and used up; as assumed where the household has not said.
ItemTerms terms_of(const HouseholdRecord& record, const std::string& item);

/// The books of the household's stock as they stand at `as_of`.
stock::Stock stock_at(const HouseholdRecord& record, Instant as_of);

/// What to pack for a stay, cells first, then the items that have terms.
std::vector<stock::Packing> packing_for(const HouseholdRecord& record, const Stay& stay, Instant as_of);
/// The same from a forecast that was made.
std::vector<stock::Packing> packing_for(const HouseholdRecord& record, const Stay& stay, const ForecastAnswer& answer);

}  // namespace cellarer::service
