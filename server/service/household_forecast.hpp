// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "model/life/forecast.hpp"
#include "model/stock/change_days.hpp"
#include "model/stock/reorder.hpp"
#include "model/stock/stay.hpp"
#include "server/service/household_record.hpp"

/// The forecast of a whole household: both sides, what is in the house, and what to be careful about. A pure
/// function of the record and of a moment.
namespace cellarer::service {

struct ForecastAnswer {
  life::HouseholdForecast life;
  std::vector<stock::ItemForecast> stock;  ///< cells first, then by name
  bool stock_lasts_known = false;          ///< false: no side has a forecast, so days and dates of cells say nothing
  std::vector<std::string> cautions;
};

ForecastAnswer household_forecast(const HouseholdRecord& record, Instant as_of);

/// What to pack for a stay, cells first, then the items that have terms.
std::vector<stock::Packing> packing_for(const HouseholdRecord& record, const Stay& stay, Instant as_of);
/// The same from a forecast that was made.
std::vector<stock::Packing> packing_for(const HouseholdRecord& record, const Stay& stay, const ForecastAnswer& answer);

}  // namespace cellarer::service
