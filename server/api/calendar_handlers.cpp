// SPDX-License-Identifier: MIT
// The calendar of rounds, and the agency's own stock.
#include <set>

#include "model/rounds/check.hpp"
#include "server/api/desk_documents.hpp"
#include "server/api/desk_routes.hpp"
#include "server/api/write_door.hpp"
#include "server/json/texts.hpp"
#include "server/service/desk_kinds.hpp"

namespace cellarer::api {

namespace desk = service::desk;
using cellarer::json::Field;

namespace {

constexpr int recent_days = 14;

nlohmann::json round_of(const rounds::Round& round, const service::AgencyRecord& agency) {
  const auto* booked = agency.round(round.id);
  return {{"round", round.id},
          {"area", round.area},
          {"date", rounds::iso(round.date)},
          {"stops_at_most", round.stops},
          {"lead_days", round.lead_days},
          {"last_day_to_plan", rounds::iso(stock::days_after(round.date, -round.lead_days))},
          {"state", service::name_of(agency.state_of(round.id))},
          {"stops", booked == nullptr ? 0 : booked->stops},
          {"number", agency.number_of(round.id)}};
}

nlohmann::json calendar_answer(service::AgencyBoard& board) {
  const auto frame = board.frame();
  nlohmann::json document = service::calendar_document(frame.agency.calendar);
  document["number"] = frame.agency.calendar.number;
  document["zone_now"] = board.zone()->name();
  std::set<std::string> areas;
  for (const auto& rule : frame.agency.calendar.rules) areas.insert(rule.area);
  for (const auto& one : board.households())
    if (one.desk.area) areas.insert(*one.desk.area);
  document["areas"] = areas;
  document["rounds"] = nlohmann::json::array();
  for (const auto& round : frame.coming.all) document["rounds"].push_back(round_of(round, frame.agency));
  document["recent"] = nlohmann::json::array();
  for (const auto& [name, booked] : frame.agency.rounds) {
    const int ago = stock::days_between(booked.round.date, frame.coming.today);
    if (ago > 0 && ago <= recent_days) document["recent"].push_back(round_of(booked.round, frame.agency));
  }
  return document;
}

/// Never the number of an entry: what follows it is stored only where it was stored before, under the same key.
constexpr std::int64_t follows_no_entry = -1;

int packs_on_order(const service::AgencyRecord& agency, const service::LotName& name) {
  for (const auto& lot : agency.lots)
    if (lot.item == name.item && lot.lot == name.lot && lot.arrives) return lot.packs;
  return 0;
}

nlohmann::json stock_answer(const service::BoardFrame& frame) {
  auto lots = nlohmann::json::array();
  for (const auto& lot : frame.agency.lots) {
    const auto* item = frame.agency.calendar.item(lot.item);
    const bool expired = lot.expires && stock::last_usable_date(*lot.expires) < frame.coming.today;
    lots.push_back({{"item", lot.item},
                    {"lot", json::text_or_null(lot.lot)},
                    {"packs", lot.packs},
                    {"pieces_per_pack", item == nullptr ? nlohmann::json() : nlohmann::json(item->pieces_per_pack)},
                    {"expires", lot.expires ? nlohmann::json(json::month_text(*lot.expires)) : nlohmann::json()},
                    {"arrives", date_or_null(lot.arrives)},
                    {"recalled", lot.recalled},
                    {"expired", expired},
                    {"please_count", lot.packs < 0}});
  }
  return {{"lots", std::move(lots)}, {"looked_at", frame.agency.keeps_stock}};
}

}  // namespace

Response get_round_calendar(const Context& context, const Request& request, const Parts&) {
  const auto held = desk_of(context).board(request.principal->agency);
  auto& board = *held;
  board.catch_up();
  return json_response(calendar_answer(board));
}

Response post_round_calendar(const Context& context, const Request& request, const Parts&) {
  const auto key = require_key(request);
  const auto document = object_of(request);
  const Field body(document, "");
  const auto held = desk_of(context).board(request.principal->agency);
  auto& board = *held;
  board.catch_up();
  const auto follows = body["follows"].integer(0, 2'000'000'000);
  const auto calendar = service::read_new_calendar(body, board.frame().coming.today);
  context.households.journal().record({request.principal->agency, desk::round_calendar, "",
                                       service::calendar_document(calendar).dump(), key, request.principal->account,
                                       follows});
  return json_response(calendar_answer(board));
}

Response get_agency_stock(const Context& context, const Request& request, const Parts&) {
  return json_response(stock_answer(desk_of(context).board(request.principal->agency)->frame()));
}

Response post_agency_stock(const Context& context, const Request& request, const Parts&) {
  const auto key = require_key(request);
  const auto document = object_of(request);
  const Field body(document, "");
  service::check_agency_stock(body);
  const auto held = desk_of(context).board(request.principal->agency);
  auto& board = *held;
  if (const auto arrives = body.find("arrives"); arrives && service::read_date(*arrives) < board.frame().coming.today)
    arrives->refuse("out-of-range", "lies in the past: record what has come as received");
  service::AgencyWrite write{request.principal->agency, desk::agency_stock, body["item"].text(60), document.dump(), key,
                             request.principal->account};
  if (body["what"].value() == "cancelled") {
    const auto number = body.find("lot");
    service::LotName lot{body["item"].text(60), number ? number->text(60) : ""};
    lot.lot = context.households.lots_of_agency(write.agency)->right(lot);
    const int on_order = packs_on_order(board.frame().agency, lot);
    if (on_order < body["packs"].integer(1, 1'000'000)) write.follows = follows_no_entry;
    try {
      context.households.journal().record(write);
    } catch (const Problem& problem) {
      if (problem.code() != ProblemCode::outdated) throw;
      body["packs"].refuse("out-of-range", on_order == 0 ? "nothing of that lot is on order"
                                                         : "is more than is on order: " + std::to_string(on_order));
    }
  } else {
    context.households.journal().record(write);
  }
  return json_response(stock_answer(board.frame()), 201);
}

}  // namespace cellarer::api
