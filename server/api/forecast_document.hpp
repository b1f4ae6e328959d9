// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

#include "server/service/household_forecast.hpp"

/// Forecast, chart and packing list as they go over the wire (data/schema/forecast.schema.json).
namespace cellarer::api {

/// For what: a comparison asks nothing, and says how long a fresh set would last (`fresh_set_h`).
enum class Asked { forecast, comparison };

/// As text.
std::string forecast_document(const service::HouseholdRecord& record, const service::ForecastAnswer& answer,
                              Asked asked = Asked::forecast);

/// The range chart of one side, as text: what the gauge is expected to show, with the readings of the set that is in.
std::string chart_document(const service::HouseholdRecord& record, const service::ForecastAnswer& answer, Side side);

/// How the clocks of a zone stand from 200 days before `at` to 400 days after: [{"from", "to", "offset_min"}], one
/// after the other. A phone that has them need not ask its own tables, which takes it longer than to draw the page, and
/// which may be years old.
nlohmann::ordered_json clocks_document(Zone zone, Instant at);

nlohmann::ordered_json packing_document(const std::vector<stock::Packing>& packed);

}  // namespace cellarer::api
