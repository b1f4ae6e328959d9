// SPDX-License-Identifier: MIT
#pragma once
#include "server/service/household_forecast.hpp"

/// What the forecast says where a lot is called back.
namespace cellarer::api {

/// "Change at the next changing time, 21:30 today; this lot is recalled." in place of the side's limit, or before it;
/// the limit as it was where the side's lot is not recalled, or the unit's own word stands there.
std::string limit_with_recall(const std::optional<service::RecalledInSide>& recalled, const life::SideForecast& side,
                              Instant next_changing_time, Instant as_of, const life::Household& household,
                              std::string limit);

/// What the shelf holds of recalled lots of that item, in pieces.
int recalled_pieces(const service::ForecastAnswer& answer, const std::string& item);

/// "No cells in the house but of a recalled lot." in place of the item's sentence, where that is so.
std::string sentence_with_recall(const stock::ItemForecast& item, int recalled, std::string sentence);
/// The item's limit, and " 12 of a recalled lot: set them apart."
std::string limit_with_recall(int recalled, std::string limit);

}  // namespace cellarer::api
