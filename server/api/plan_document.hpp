// SPDX-License-Identifier: MIT
#pragma once
#include <nlohmann/json.hpp>

#include "server/service/household_forecast.hpp"

namespace cellarer::api {

/// What is open or still to come, by time, each with its sentence and the number of its entry; stays that are to come
/// with what to pack.
nlohmann::ordered_json plans_document(const service::HouseholdRecord& record, const service::ForecastAnswer& answer);

/// {since, entry} while the wearer is in hospital; null at home.
nlohmann::ordered_json in_hospital_document(const service::HouseholdRecord& record, Instant at);

/// The open period of more pacing that a side is asked about, where it is: the one of which nothing was said for
/// longest; null: none is open.
const service::PacedMore* asked_paced_more(const service::HouseholdRecord& record, Side side, Instant at);

/// "all day", "16 hours a day", "with amplitude 4.6"
std::string paced_more_words(const service::PacedMore& more);

}  // namespace cellarer::api
