// SPDX-License-Identifier: MIT
#pragma once
#include "server/api/routes.hpp"

/// Addresses of the planner's desk: the list, messages from homes, the calendar of rounds, the agency's own stock, the
/// plan, and what becomes of a round. Their handlers, one file a subject.
namespace cellarer::api {

std::vector<Route> desk_routes();

// board_handlers.cpp
Response get_board(const Context&, const Request&, const Parts&);
Response get_desk_household(const Context&, const Request&, const Parts&);
Response post_ask(const Context&, const Request&, const Parts&);
Response post_stop_place(const Context&, const Request&, const Parts&);
Response post_close(const Context&, const Request&, const Parts&);
Response post_reopen(const Context&, const Request&, const Parts&);

// message_handlers.cpp
Response get_messages(const Context&, const Request&, const Parts&);
Response post_message(const Context&, const Request&, const Parts&);
Response post_message_seen(const Context&, const Request&, const Parts&);
Response post_delivery_answer(const Context&, const Request&, const Parts&);
Response post_delivery_whereabouts(const Context&, const Request&, const Parts&);

// calendar_handlers.cpp
Response get_round_calendar(const Context&, const Request&, const Parts&);
Response post_round_calendar(const Context&, const Request&, const Parts&);
Response get_agency_stock(const Context&, const Request&, const Parts&);
Response post_agency_stock(const Context&, const Request&, const Parts&);

// round_plan_handlers.cpp
Response get_plan(const Context&, const Request&, const Parts&);
Response get_remedies(const Context&, const Request&, const Parts&);
Response post_consequence(const Context&, const Request&, const Parts&);
Response post_stop_decision(const Context&, const Request&, const Parts&);
Response post_confirm(const Context&, const Request&, const Parts&);

// round_handlers.cpp
Response get_round(const Context&, const Request&, const Parts&);
Response post_round_state(const Context&, const Request&, const Parts&);

}  // namespace cellarer::api
