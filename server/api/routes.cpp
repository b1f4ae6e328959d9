// SPDX-License-Identifier: MIT
#include "server/api/routes.hpp"

#include <sstream>
#include <string_view>

#include "server/api/access_routes.hpp"
#include "server/api/cost_routes.hpp"
#include "server/api/desk_routes.hpp"
#include "server/api/handlers.hpp"
#include "server/api/lot_routes.hpp"
#include "server/api/phone_routes.hpp"
#include "server/api/review_routes.hpp"
#include "server/api/rounds_feed.hpp"
#include "server/api/table_routes.hpp"

namespace cellarer::api {

namespace {

using enum ProblemCode;
using access::Permission;
using enum Permission;

Route read(const char* path, const char* name, const char* summary, Permission needs, Runs runs, Handler handler,
           const char* gives, std::vector<const char*> query = {}, Shortcut shortcut = nullptr) {
  Route route{"GET", path, name, summary, needs, runs, handler, shortcut, nullptr, gives, 200, std::move(query), {}};
  if (std::string(path).find("{household}") != std::string::npos) route.problems = {unknown_household};
  if (std::string(path).find("{stimulator}") != std::string::npos) route.problems = {unknown_profile};
  return route;
}

Route fact(const char* path, const char* name, const char* summary, Permission needs, Handler handler,
           const char* takes, std::vector<ProblemCode> problems = {future_date}, const char* gives = "Recorded") {
  problems.insert(problems.begin(), unknown_household);
  return {"POST",  path,  name,  summary, needs, Runs::write,        handler,
          nullptr, takes, gives, 201,     {},    std::move(problems)};
}

std::vector<Route> table() {
  std::vector<Route> all{
      read("/health", "health", "Whether the service is alive", anyone, Runs::io, get_health, "Health"),
      read("/ready", "ready", "Whether the store answers", anyone, Runs::compute, get_ready, "Ready"),
      read("/openapi.json", "openapi", "This document", anyone, Runs::io, get_openapi, "Document"),
      read("/profiles/cells", "cellProfiles", "Cell profiles to choose from", signed_in, Runs::compute,
           get_cell_profiles, "CellProfiles"),
      read("/profiles/stimulators", "stimulators", "Stimulator profiles to choose from", signed_in, Runs::compute,
           get_stimulators, "Stimulators"),
      read("/profiles/stimulators/{stimulator}", "stimulator", "One stimulator profile", signed_in, Runs::compute,
           get_stimulator, "Document"),
      read("/households", "households", "Households in the order of their references", list_households, Runs::compute,
           get_households, "Households", {"cursor", "limit"}),
      {"POST",
       "/households",
       "createHousehold",
       "Creates a household",
       create_household,
       Runs::write,
       post_household,
       nullptr,
       "NewHousehold",
       "Household",
       201,
       {},
       {household_exists}},
      read("/households/{household}", "household", "What a page needs for its forms", read_household, Runs::compute,
           get_household, "Household"),
      read("/households/{household}/export", "export", "All that is known, as `cellarer forecast` reads it",
           export_household, Runs::compute, get_export, "Export"),
      read("/households/{household}/entries", "entries", "What was recorded, newest first", read_household,
           Runs::compute, get_entries, "Entries", {"cursor", "limit"}),
      read("/households/{household}/forecast", "forecast", "Both sides and the stock", read_household, Runs::compute,
           get_forecast, "Forecast", {}, kept_forecast),
      read("/households/{household}/chart", "chart", "The expected gauge of one side, with its readings",
           read_household, Runs::compute, get_chart, "Chart", {"side"}, kept_chart),
      fact("/households/{household}/units", "recordUnit", "A unit comes into use, or is kept as a spare", record_setup,
           post_unit, "Unit"),
      fact("/households/{household}/settings", "recordSettings", "Settings of one side, as the clinician gave them",
           record_setup, post_settings, "Settings"),
      fact("/households/{household}/cell-changes", "recordCellChange", "The cells of one side were changed", record_use,
           post_cell_change, "CellChange"),
      fact("/households/{household}/readings", "recordReading", "Something was seen: gauge, volts, warning, stop",
           record_readings, post_reading, "Reading"),
      fact("/households/{household}/paced", "recordPaced", "Hours actually paced, where they differed", record_use,
           post_paced, "Paced"),
      fact("/households/{household}/switched-off", "recordSwitchedOff", "A side was switched off for a while",
           record_use, post_switched_off, "SwitchedOff"),
      fact("/households/{household}/stock-counts", "recordStockCount", "Stock of one lot at one place was counted",
           record_stock, post_stock_count, "StockEvent"),
      fact("/households/{household}/deliveries", "recordDelivery", "Stock was received", record_stock, post_delivery,
           "StockEvent"),
      fact("/households/{household}/discards", "recordDiscard", "Stock was thrown away", record_use, post_discard,
           "StockEvent"),
      fact("/households/{household}/uses", "recordUse", "Stock was used, beside what changes of cells use", record_use,
           post_use, "StockEvent"),
      fact("/households/{household}/stays", "recordStay", "A stay away from home; answers what to pack", record_plans,
           post_stay, "Stay", {}),
      fact("/households/{household}/paced-more", "recordPacedMore",
           "More pacing than the settings say, as for an infection, while it lasts", record_plans, post_paced_more,
           "PacedMore"),
      fact("/households/{household}/visits", "recordVisit", "A visit that wants fresh cells", record_plans, post_visit,
           "Visit", {}),
      fact("/households/{household}/hospital", "recordHospital", "The wearer is in hospital: no forecast", record_plans,
           post_hospital, "Hospital"),
      fact("/households/{household}/back-home", "recordBackHome", "Back home from hospital, with what is known",
           record_plans, post_back_home, "BackHome"),
      fact("/households/{household}/ends", "recordEnd", "What an entry began has ended", read_household, post_end,
           "End", {unknown_entry, nothing_to_end, future_date}),
      {"POST",
       "/households/{household}/what-if",
       "whatIf",
       "The forecast as recorded and as typed in, side by side; nothing is stored",
       read_household,
       Runs::compute,
       post_what_if,
       nullptr,
       "TypedIn",
       "SideBySide",
       200,
       {},
       {unknown_household},
       false},
      fact("/households/{household}/voids", "recordVoid", "Takes an entry back", read_household, post_void, "Void",
           {unknown_entry, already_voided, cannot_be_voided}),
      fact("/households/{household}/answers", "recordAnswer",
           "Answers whether a change is the same as the one before, or goes on", record_use, post_answer, "Answer",
           {unknown_entry, nothing_to_answer}),
  };
  return all;
}

/// A route's path cut at its slashes, once.
struct Form {
  const Route* route;
  std::vector<std::string> segments;
};

std::vector<Form> forms() {
  std::vector<Form> all;
  for (const Route& route : routes()) {
    Form form{&route, {}};
    std::istringstream pieces(std::string("api/v1") + route.path);
    for (std::string piece; std::getline(pieces, piece, '/');) form.segments.push_back(piece);
    all.push_back(std::move(form));
  }
  return all;
}

/// The parts, where the path is of that form.
std::optional<Parts> fits(const std::vector<std::string>& segments, const std::vector<std::string>& path) {
  if (segments.size() != path.size()) return std::nullopt;
  Parts parts;
  for (std::size_t i = 0; i < path.size(); ++i) {
    const std::string& segment = segments[i];
    if (segment.front() == '{')
      parts[segment.substr(1, segment.size() - 2)] = path[i];
    else if (segment != path[i])
      return std::nullopt;
  }
  return parts;
}

}  // namespace

const std::vector<Route>& routes() {
  static const std::vector<Route> all = [] {
    auto together = table();
    for (auto& route : access_routes()) together.push_back(std::move(route));
    for (auto& route : desk_routes()) together.push_back(std::move(route));
    for (auto& route : review_routes()) together.push_back(std::move(route));
    for (auto& route : proposal_routes()) together.push_back(std::move(route));
    for (auto& route : cost_routes()) together.push_back(std::move(route));
    for (auto& route : table_routes()) together.push_back(std::move(route));
    for (auto& route : rounds_feed_routes()) together.push_back(std::move(route));
    for (auto& route : lot_routes()) together.push_back(std::move(route));
    for (auto& route : phone_routes()) together.push_back(std::move(route));
    for (auto& route : together) {
      if (std::string_view(route.path).ends_with(".csv")) route.media_type = "text/csv";
    }
    return together;
  }();
  return all;
}

Match match(const std::string& method, const std::vector<std::string>& path) {
  static const std::vector<Form> all = forms();
  Match found;
  bool by_name = false;  // a path that stands in the table as it is goes before one with parts in braces
  for (const auto& [route_of_form, segments] : all) {
    const auto parts = fits(segments, path);
    if (!parts || (by_name && !parts->empty())) continue;
    if (parts->empty() && !by_name) {
      by_name = true;
      found = {};
    }
    const Route& route = *route_of_form;
    found.methods.push_back(route.method);
    if (std::string(route.method) == "GET") found.methods.push_back("HEAD");
    if (route.method != method) continue;
    found.route = &route;
    found.parts = *parts;
  }
  if (!found.methods.empty()) found.methods.push_back("OPTIONS");
  return found;
}

}  // namespace cellarer::api
