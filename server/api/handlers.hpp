// SPDX-License-Identifier: MIT
#pragma once
#include "server/api/routes.hpp"

/// The handlers that the table of routes names; one file a subject.
namespace cellarer::api {

// system_handlers.cpp
Response get_health(const Context&, const Request&, const Parts&);
Response get_ready(const Context&, const Request&, const Parts&);
Response get_openapi(const Context&, const Request&, const Parts&);

// profile_handlers.cpp
Response get_cell_profiles(const Context&, const Request&, const Parts&);
Response get_stimulators(const Context&, const Request&, const Parts&);
Response get_stimulator(const Context&, const Request&, const Parts&);

// household_handlers.cpp
Response post_household(const Context&, const Request&, const Parts&);
Response get_households(const Context&, const Request&, const Parts&);
Response get_household(const Context&, const Request&, const Parts&);
Response get_export(const Context&, const Request&, const Parts&);
Response get_entries(const Context&, const Request&, const Parts&);

// forecast_handlers.cpp
Response get_forecast(const Context&, const Request&, const Parts&);
Response get_chart(const Context&, const Request&, const Parts&);
std::optional<Response> kept_forecast(const Context&, const Request&, const Parts&);
std::optional<Response> kept_chart(const Context&, const Request&, const Parts&);

// record_handlers.cpp: each stores one fact
Response post_unit(const Context&, const Request&, const Parts&);
Response post_settings(const Context&, const Request&, const Parts&);
Response post_cell_change(const Context&, const Request&, const Parts&);
Response post_reading(const Context&, const Request&, const Parts&);
Response post_paced(const Context&, const Request&, const Parts&);
Response post_switched_off(const Context&, const Request&, const Parts&);
Response post_stock_count(const Context&, const Request&, const Parts&);
Response post_delivery(const Context&, const Request&, const Parts&);
Response post_discard(const Context&, const Request&, const Parts&);
Response post_void(const Context&, const Request&, const Parts&);
Response post_answer(const Context&, const Request&, const Parts&);

// plan_handlers.cpp
Response post_paced_more(const Context&, const Request&, const Parts&);
Response post_visit(const Context&, const Request&, const Parts&);
Response post_stay(const Context&, const Request&, const Parts&);
Response post_hospital(const Context&, const Request&, const Parts&);
Response post_back_home(const Context&, const Request&, const Parts&);
Response post_end(const Context&, const Request&, const Parts&);
Response post_what_if(const Context&, const Request&, const Parts&);

}  // namespace cellarer::api
