// SPDX-License-Identifier: MIT
// Between the home and its agency: messages, whether they were seen, and what came of a delivery.
#include <charconv>

#include "server/api/desk_bodies.hpp"
#include "server/api/desk_documents.hpp"
#include "server/api/desk_routes.hpp"
#include "server/api/desk_sentences.hpp"
#include "server/api/write_door.hpp"
#include "server/json/texts.hpp"
#include "server/service/desk_kinds.hpp"
#include "server/service/facts.hpp"

namespace cellarer::api {

namespace desk = service::desk;
using cellarer::json::Field;

namespace {

nlohmann::json messages_document(const Context& context, const Request& request, const std::string& household) {
  const auto snapshot = context.households.snapshot(household);
  const Zone zone = snapshot->record.life.zone;
  const Instant now = context.households.clock().now();
  auto& planner = desk_of(context);
  const auto record = planner.desk_of(household);
  const auto agency = planner.board(request.principal->agency)->frame().agency;
  const auto time = [&](const std::optional<Instant>& at) {
    return at ? nlohmann::json(cellarer::json::rfc3339(*at, zone)) : nlohmann::json();
  };
  auto messages = nlohmann::json::array(), deliveries = nlohmann::json::array();
  for (auto at = record.messages.rbegin(); at != record.messages.rend(); ++at) {
    messages.push_back({{"entry", at->entry},
                        {"about", at->about},
                        {"at", time(at->at)},
                        {"note", json::text_or_null(at->note)},
                        {"seen_at", time(at->seen_at)},
                        {"text", message_text(*at, now, zone)}});
  }
  const auto today = stock::date_in(zone, now);
  for (auto at = record.deliveries.rbegin(); at != record.deliveries.rend(); ++at) {
    const auto state = service::state_of(*at, agency, now);
    if (state != service::DeliveryState::withdrawn) deliveries.push_back(delivery_document(*at, state, today));
  }
  return {
      {"messages", std::move(messages)}, {"deliveries", std::move(deliveries)}, {"closed_at", time(record.closed_at)}};
}

std::int64_t entry_in(const Parts& parts) {
  const std::string& text = parts.at("entry");
  std::int64_t number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error == std::errc{} && end == text.data() + text.size()) return number;
  throw Problem(ProblemCode::unknown_entry, "An entry is named by its number.");
}

}  // namespace

Response get_messages(const Context& context, const Request& request, const Parts& parts) {
  return json_response(messages_document(context, request, parts.at("household")));
}

Response post_message(const Context& context, const Request& request, const Parts& parts) {
  const Incoming incoming = open_door(context, request, parts);
  const Field body(incoming.document, "");
  check_message(body);
  const Instant now = context.households.clock().now();
  const auto given = body.find("at");
  const Instant at = given ? service::read_time(*given) : now;
  ask_about_future(body, at, now);
  const auto recorded = context.households.record(incoming.write(desk::message, at));
  auto document = messages_document(context, request, incoming.household);
  document["entry"] = recorded.entry.number;
  return json_response(document, 201);
}

Response post_message_seen(const Context& context, const Request& request, const Parts& parts) {
  Incoming incoming = open_door(context, request, parts);
  const auto number = entry_in(parts);
  const auto seen = [&]() -> std::optional<Instant> {
    for (const auto& message : desk_of(context).desk_of(incoming.household).messages)
      if (message.entry == number) return message.seen_at;
    throw Problem(ProblemCode::unknown_entry, "Entry " + std::to_string(number) + " is no message of this household.");
  };
  nlohmann::json entry = nullptr;
  if (!seen()) {
    incoming.document = {{"entry", number}};
    const auto now = context.households.clock().now();
    entry = context.households.record(incoming.write(desk::message_seen, now)).entry.number;
  }
  return json_response({{"entry", entry}, {"seen_at", cellarer::json::rfc3339(seen().value(), nullptr)}}, 201);
}

Response post_delivery_answer(const Context& context, const Request& request, const Parts& parts) {
  const Incoming incoming = open_door(context, request, parts);
  const Field body(incoming.document, "");
  const std::string round = body["round"].text();
  const bool came = body["answer"].word({"received", "not_received"}) == 0;
  std::optional<std::vector<stock::Line>> lines;
  if (const auto list = body.find("lines")) lines = read_delivered(*list);
  auto& planner = desk_of(context);
  const auto who = doing(request, incoming.key);
  if (came)
    planner.delivery_received(who, incoming.household, round, lines);
  else
    planner.delivery_not_received(who, incoming.household, round);
  const auto record = planner.desk_of(incoming.household);
  const auto agency = planner.board(request.principal->agency)->frame().agency;
  const Instant now = context.households.clock().now();
  const auto* delivery = record.delivery_on(round);
  const auto today = stock::date_in(context.households.snapshot(incoming.household)->record.life.zone, now);
  return json_response({{"entry", record.last_entry},
                        {"booked", planner.booked_of(incoming.household, round)},
                        {"delivery", delivery_document(*delivery, service::state_of(*delivery, agency, now), today)}},
                       201);
}

Response post_delivery_whereabouts(const Context& context, const Request& request, const Parts& parts) {
  const Incoming incoming = open_door(context, request, parts);
  const Field body(incoming.document, "");
  const std::string round = body["round"].text();
  const auto whereabouts = service::read_whereabouts(body["packs"]);
  auto& planner = desk_of(context);
  planner.settle(doing(request, incoming.key), incoming.household, round, whereabouts);
  const auto record = planner.desk_of(incoming.household);
  const auto agency = planner.board(request.principal->agency)->frame().agency;
  const auto& delivery = *record.delivery_on(round);
  return json_response({{"round", round},
                        {"packs", service::name_of(delivery.whereabouts)},
                        {"settled", missing_lots_document(delivery.settled)},
                        {"did_not_come", missing_lots_document(service::astray_of(delivery, agency))},
                        {"sentence", settled_text(delivery)}},
                       201);
}

}  // namespace cellarer::api
