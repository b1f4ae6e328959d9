// SPDX-License-Identifier: MIT
#include "server/api/model_forecaster.hpp"

#include "server/api/forecast_document.hpp"
#include "server/json/field.hpp"
#include "server/json/writer.hpp"
#include "server/service/household_forecast.hpp"
#include "server/service/waste.hpp"

namespace cellarer::api {

MadeForecast ModelForecaster::make(const service::HouseholdRecord& record, Instant as_of) const {
  const auto answer = service::household_forecast(record, as_of);
  MadeForecast made;
  made.forecast = forecast_document(record, answer);
  made.fresh_lives = service::fresh_lives(answer.life);
  made.next_changing_time = answer.life.next_changing_time;
  return made;
}

std::array<std::string, 2> ModelForecaster::charts(const service::HouseholdRecord& record, Instant as_of) const {
  const auto answer = service::household_forecast(record, as_of, life::Chart::wanted);
  return {chart_document(record, answer, Side::left), chart_document(record, answer, Side::right)};
}

nlohmann::json ModelForecaster::packing(const service::HouseholdRecord& record, const service::Stay& stay,
                                        Instant as_of) const {
  // Through text: the wire's order of fields is for readers, the entry that this becomes part of keeps none.
  return nlohmann::json::parse(packing_document(service::packing_for(record, stay, as_of)).dump());
}

std::string ModelForecaster::side_by_side(const service::HouseholdRecord& recorded,
                                          const service::HouseholdRecord& typed, Instant as_of) const {
  const auto document = [&](const service::HouseholdRecord& record) {
    return forecast_document(record, service::household_forecast(record, as_of), Asked::comparison);
  };
  json::Writer both;
  both.object([&] {
    both.member("household", recorded.reference);
    both.member("as_of", json::rfc3339(as_of, recorded.life.zone));
    both.member("statement",
                "Computed for what was typed in. Nothing was recorded. Settings are the clinician's to change.");
    both.document("as_recorded", document(recorded));
    both.document("as_typed_in", document(typed));
  });
  return both.take();
}

}  // namespace cellarer::api
