// SPDX-License-Identifier: MIT
#include "server/api/model_forecaster.hpp"

#include "server/api/forecast_document.hpp"
#include "server/service/household_forecast.hpp"

namespace cellarer::api {

MadeForecast ModelForecaster::make(const service::HouseholdRecord& record, Instant as_of) const {
  const auto answer = service::household_forecast(record, as_of);
  MadeForecast made;
  made.forecast = forecast_document(record, answer).dump();
  for (const auto side : both_sides) {
    made.charts[side == Side::left ? 0 : 1] = chart_document(record, answer, side).dump();
  }
  made.next_changing_time = answer.life.next_changing_time;
  return made;
}

nlohmann::json ModelForecaster::packing(const service::HouseholdRecord& record, const service::Stay& stay,
                                        Instant as_of) const {
  // Through text: the wire's order of fields is for readers, the entry that this becomes part of keeps none.
  return nlohmann::json::parse(packing_document(service::packing_for(record, stay, as_of)).dump());
}

}  // namespace cellarer::api
