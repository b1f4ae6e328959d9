// SPDX-License-Identifier: MIT
// The planner's list, and what is done with one household of it.
#include <charconv>

#include "model/rounds/check.hpp"
#include "server/api/desk_bodies.hpp"
#include "server/api/desk_documents.hpp"
#include "server/api/desk_routes.hpp"
#include "server/api/household_document.hpp"
#include "server/api/sentences.hpp"
#include "server/api/write_door.hpp"
#include "server/json/texts.hpp"
#include "server/service/desk_kinds.hpp"

namespace cellarer::api {

namespace desk = service::desk;

namespace {

/// A whole number of the address; `otherwise` where it is not given.
std::size_t number_in(const Request& request, const char* name, std::size_t least, std::size_t otherwise) {
  const auto at = request.query.find(name);
  if (at == request.query.end() || at->second.empty()) return otherwise;
  std::size_t number = 0;
  const char* end = at->second.data() + at->second.size();
  const auto [read, error] = std::from_chars(at->second.data(), end, number);
  if (error != std::errc{} || read != end || number < least || number > 1'000'000) {
    throw cellarer::json::Refused("out-of-range", std::string("?") + name,
                                  "expected a whole number from " + std::to_string(least));
  }
  return number;
}

/// The row as it is now; null while the service's clock is wrong, as what was written before it is kept all the same.
nlohmann::json row_of(const Context& context, const Request& request, const std::string& household) {
  try {
    context.households.require_clock();
  } catch (const Problem&) {
    return nullptr;
  }
  const auto held = desk_of(context).board(request.principal->agency);
  auto& board = *held;
  board.catch_up();
  const auto row = board.row(household);
  return row ? nlohmann::json::parse(*row) : nlohmann::json();
}

nlohmann::json stock_of(const service::HouseholdRecord& record, Instant now) {
  auto lines = nlohmann::json::array();
  for (const auto& line : service::stock_at(record, now).lines) {
    if (line.quantity == 0) continue;
    lines.push_back({{"item", line.item},
                     {"lot", line.lot ? nlohmann::json(*line.lot) : nlohmann::json()},
                     {"pieces", line.quantity},
                     {"expires", line.expires ? nlohmann::json(json::month_text(*line.expires)) : nlohmann::json()},
                     {"place", line.place}});
  }
  return lines;
}

}  // namespace

Response get_board(const Context& context, const Request& request, const Parts&) {
  context.households.require_clock();
  const auto from = number_in(request, "cursor", 0, 0);
  const auto limit = number_in(request, "limit", 1, 0);
  const auto held = desk_of(context).board(request.principal->agency);
  auto& board = *held;
  board.catch_up();
  const auto page = board.page(from, limit);
  return bytes_response(page.json, page.etag);
}

Response get_desk_household(const Context& context, const Request& request, const Parts& parts) {
  context.households.require_clock();
  const auto& household = parts.at("household");
  const auto snapshot = context.households.snapshot(household);
  const Instant now = context.households.clock().now();
  nlohmann::json document{{"disclaimer", disclaimer},
                          {"row", row_of(context, request, household)},
                          {"units", nlohmann::json::array()},
                          {"stock", stock_of(snapshot->record, now)},
                          {"comes_back", comes_back_document(desk_of(context).comes_back_of(household))},
                          {"decisions", nlohmann::json::array()},
                          {"storage", nlohmann::json::array()}};
  for (const auto& unit : snapshot->record.units)
    document["units"].push_back(unit_document(unit, snapshot->record.life.zone));
  const auto record = desk_of(context).desk_of(household);
  for (const auto& one : record.decisions) document["decisions"].push_back({{"round", one.round}, {"stop", one.stop}});
  for (const auto& [item, pieces] : record.storage) document["storage"].push_back({{"item", item}, {"pieces", pieces}});
  return json_response(document);
}

Response post_ask(const Context& context, const Request& request, const Parts& parts) {
  const Incoming incoming = open_door(context, request, parts);
  const auto recorded = context.households.record(incoming.write(desk::ask, context.households.clock().now()));
  return json_response(
      {{"entry", recorded.entry.number}, {"asked_at", cellarer::json::rfc3339(recorded.entry.at, nullptr)}}, 201);
}

Response post_stop_place(const Context& context, const Request& request, const Parts& parts) {
  const Incoming incoming = open_door(context, request, parts);
  check_stop_place(cellarer::json::Field(incoming.document, ""));
  const auto recorded = context.households.record(incoming.write(desk::stop_place, context.households.clock().now()));
  return json_response({{"entry", recorded.entry.number}, {"row", row_of(context, request, incoming.household)}}, 201);
}

Response post_close(const Context& context, const Request& request, const Parts& parts) {
  const Incoming incoming = open_door(context, request, parts);
  auto& planner = desk_of(context);
  const auto ended = planner.close(doing(request, incoming.key), incoming.household);
  const auto snapshot = context.households.snapshot(incoming.household);
  const auto closed_at = planner.desk_of(incoming.household).closed_at;
  auto stops = nlohmann::json::array();
  for (const auto& one : ended)
    stops.push_back({{"stop", one.stop}, {"round", one.round}, {"date", rounds::iso(one.date)}});
  return json_response(
      {{"closed_at",
        closed_at ? nlohmann::json(cellarer::json::rfc3339(*closed_at, snapshot->record.life.zone)) : nlohmann::json()},
       {"stops_ended", std::move(stops)},
       {"comes_back", comes_back_document(planner.comes_back_of(incoming.household))}},
      201);
}

Response post_reopen(const Context& context, const Request& request, const Parts& parts) {
  const Incoming incoming = open_door(context, request, parts);
  const auto recorded = context.households.record(incoming.write(desk::reopened, context.households.clock().now()));
  return json_response({{"entry", recorded.entry.number}, {"row", row_of(context, request, incoming.household)}}, 201);
}

}  // namespace cellarer::api
