// SPDX-License-Identifier: MIT
#include "server/api/desk_routes.hpp"

namespace cellarer::api {

namespace {

using enum ProblemCode;
using access::Permission;
using enum Permission;

bool of_a_household(const char* path) { return std::string(path).find("{household}") != std::string::npos; }

Route shows(const char* path, const char* name, const char* summary, Permission needs, Handler handler,
            const char* gives, std::vector<ProblemCode> problems = {}, std::vector<const char*> query = {}) {
  if (of_a_household(path)) problems.push_back(unknown_household);
  return {"GET",
          path,
          name,
          summary,
          needs,
          Runs::compute,
          handler,
          nullptr,
          nullptr,
          gives,
          200,
          std::move(query),
          std::move(problems)};
}

Route keeps(const char* path, const char* name, const char* summary, Permission needs, Handler handler,
            const char* what, const char* gives, int success, std::vector<ProblemCode> problems = {}) {
  if (of_a_household(path)) problems.push_back(unknown_household);
  return {"POST",  path, name,  summary, needs, Runs::write,        handler,
          nullptr, what, gives, success, {},    std::move(problems)};
}

}  // namespace

std::vector<Route> desk_routes() {
  std::vector<Route> all{
      shows("/board", "board", "Who needs what by when, the most urgent first", plan_rounds, get_board, "Board", {},
            {"cursor", "limit"}),
      shows("/households/{household}/desk", "deskHousehold", "One household of the list, with its units and stock",
            plan_rounds, get_desk_household, "DeskHousehold"),
      keeps("/households/{household}/ask", "ask", "Notes that somebody was asked to count", plan_rounds, post_ask,
            "Nothing", "Asked", 201),
      keeps("/households/{household}/stop", "recordStop", "Area, stop, and how much the home keeps", plan_rounds,
            post_stop_place, "StopPlace", "DeskRow", 201),
      keeps("/households/{household}/close", "closeHousehold",
            "Ends a household's stops and reminders; answers what comes back", plan_rounds, post_close, "Nothing",
            "Closed", 201),
      keeps("/households/{household}/reopen", "reopenHousehold", "The household is served again", plan_rounds,
            post_reopen, "Nothing", "DeskRow", 201),
      shows("/households/{household}/messages", "messages",
            "What the home told the agency, whether it was seen, and its deliveries", read_household, get_messages,
            "Messages"),
      keeps("/households/{household}/messages", "sendMessage", "The home is running short, or a unit is in trouble",
            record_use, post_message, "Message", "Messages", 201, {future_date}),
      keeps("/households/{household}/messages/{entry}/seen", "messageSeen", "The agency has seen a message",
            plan_rounds, post_message_seen, "Nothing", "MessageSeen", 201, {unknown_entry}),
      keeps("/households/{household}/delivery-answers", "answerDelivery",
            "A delivery was received, and is stock from then on, or was not", record_stock, post_delivery_answer,
            "DeliveryAnswer", "DeliveryAnswered", 201),
      keeps("/households/{household}/delivery-whereabouts", "settleDelivery",
            "Where the packs are that did not come: back in the agency's store, or lost", plan_rounds,
            post_delivery_whereabouts, "DeliveryWhereabouts", "DeliverySettled", 201),
      shows("/calendar", "calendar", "By which rules rounds go, and the rounds to come", plan_rounds,
            get_round_calendar, "Calendar"),
      keeps("/calendar", "replaceCalendar", "Replaces the calendar of rounds", plan_rounds, post_round_calendar,
            "NewCalendar", "Calendar", 200, {outdated}),
      shows("/agency-stock", "agencyStock", "What the agency has in store, by lot", plan_rounds, get_agency_stock,
            "AgencyStock"),
      keeps("/agency-stock", "recordAgencyStock",
            "Stock of the agency was received, counted, thrown away, ordered, or an order cancelled", plan_rounds,
            post_agency_stock, "AgencyStockEvent", "AgencyStock", 201),
      shows("/plan", "plan", "The plan of rounds as a draft: nothing of it is kept until it is confirmed", plan_rounds,
            get_plan, "Plan", {no_forecast_yet, out_of_range}),
      shows("/plan/remedies", "remedies", "What would serve a stop that the plan leaves short", plan_rounds,
            get_remedies, "Remedies", {no_forecast_yet, not_found}, {"stop"}),
      keeps("/plan/consequence", "consequence", "What it would mean to move, add or leave out a stop; nothing is kept",
            plan_rounds, post_consequence, "StopChange", "Consequence", 200, {outdated}),
      keeps("/plan/decisions", "decide", "Keeps a stop that was moved, added or left out by hand, or takes that back",
            plan_rounds, post_stop_decision, "StopChange", "Decided", 201, {outdated, no_forecast_yet}),
      keeps("/plan/confirm", "confirmRounds", "Confirms rounds of the draft: all of them or none", plan_rounds,
            post_confirm, "Confirm", "ConfirmedRounds", 201, {outdated}),
      shows("/rounds/{round}", "round", "A round with its picking list, its delivery sheet and how it stands",
            plan_rounds, get_round, "Round", {unknown_round}),
      keeps("/rounds/{round}/state", "recordRoundState", "A round was loaded, has left, is done, or is cancelled",
            plan_rounds, post_round_state, "RoundStep", "Round", 201, {unknown_round, outdated, lot_recalled}),
  };
  for (Route& route : all) {
    if (std::string(route.name) == "consequence") route.keeps = false, route.runs = Runs::compute;
  }
  return all;
}

}  // namespace cellarer::api
