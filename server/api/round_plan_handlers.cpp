// SPDX-License-Identifier: MIT
// The plan of rounds as a draft: read, tried, decided, confirmed.
#include <algorithm>
#include <set>

#include "model/rounds/check.hpp"
#include "server/api/desk_bodies.hpp"
#include "server/api/desk_documents.hpp"
#include "server/api/desk_routes.hpp"
#include "server/api/desk_sentences.hpp"
#include "server/api/write_door.hpp"
#include "server/json/texts.hpp"

namespace cellarer::api {

using cellarer::json::Field;

namespace {

constexpr std::size_t most_stops_at_once = 20;

nlohmann::json remedy_document(const rounds::Remedy& remedy, rounds::Date today) {
  constexpr const char* kinds[] = {"extra_stop", "other_areas_round", "extra_round", "more_packs"};
  const bool packs = remedy.kind == rounds::RemedyKind::more_packs;
  return {{"kind", kinds[static_cast<int>(remedy.kind)]},
          {"round", json::text_or_null(remedy.round)},
          {"area", json::text_or_null(remedy.area)},
          {"date", rounds::iso(remedy.date)},
          {"item", json::text_or_null(remedy.item)},
          {"packs", packs ? nlohmann::json(remedy.packs) : nlohmann::json()},
          {"extra_visits", remedy.extra_visits},
          {"risk_after", remedy.risk_after},
          {"text", remedy_text(remedy, today)}};
}

}  // namespace

Response get_plan(const Context& context, const Request& request, const Parts&) {
  context.households.require_clock();
  auto& planner = desk_of(context);
  const auto& agency = request.principal->agency;
  const auto draft = planner.plan(agency);
  return json_response(plan_draft_document(*draft, planner.board(agency)->zone()));
}

/// Of the stop that is named; of none: of those that are at most risk.
Response get_remedies(const Context& context, const Request& request, const Parts&) {
  context.households.require_clock();
  const auto draft = desk_of(context).plan(request.principal->agency);
  const auto remedies = [&](const std::string& stop) {
    auto list = nlohmann::json::array();
    for (const auto& remedy : rounds::remedies_for(draft->material.input, draft->plan, stop))
      list.push_back(remedy_document(remedy, draft->frame.coming.today));
    return list;
  };
  const auto named = request.query.find("stop");
  if (named != request.query.end() && !named->second.empty()) {
    const auto is_it = [&](const service::DeskHousehold& home) { return stop_of(home) == named->second; };
    if (std::none_of(draft->households.begin(), draft->households.end(), is_it))
      throw Problem(ProblemCode::not_found, "No household of this agency has the stop " + named->second + ".");
    return json_response({{"stop", named->second}, {"plan", draft->tag}, {"remedies", remedies(named->second)}});
  }
  auto stops = nlohmann::json::array();
  std::set<std::string> seen;
  for (const auto& left : draft->plan.left) {
    if (stops.size() == most_stops_at_once) break;
    if (seen.insert(left.address).second)
      stops.push_back({{"stop", left.address}, {"remedies", remedies(left.address)}});
  }
  return json_response(
      {{"stop", nullptr}, {"plan", draft->tag}, {"remedies", nlohmann::json::array()}, {"stops", std::move(stops)}});
}

Response post_consequence(const Context& context, const Request& request, const Parts&) {
  context.households.require_clock();
  const auto document = object_of(request);
  const Field body(document, "");
  auto& planner = desk_of(context);
  const auto& agency = request.principal->agency;
  const auto tag = body["plan"].text(80);
  const auto consequence = planner.consequence(agency, tag, read_stop_change(body));
  return json_response(consequence_document(consequence, planner.draft(agency, tag)->frame.coming.today));
}

Response post_stop_decision(const Context& context, const Request& request, const Parts&) {
  const auto key = require_key(request);
  const auto document = object_of(request);
  const Field body(document, "");
  auto& planner = desk_of(context);
  const auto clear = body.find("clear");
  const auto tag = body["plan"].text(80);
  if (clear && clear->boolean())
    planner.forget_decision(doing(request, key), body["stop"].text(80), body["round"].text());
  else
    planner.decide(doing(request, key), tag, read_stop_change(body));
  return json_response({{"plan", planner.plan(request.principal->agency)->tag}}, 201);
}

Response post_confirm(const Context& context, const Request& request, const Parts&) {
  const auto key = require_key(request);
  const auto document = object_of(request);
  const Field body(document, "");
  const auto tag = body["plan"].text(80);
  const auto rounds = read_confirmed_rounds(body);
  const auto done = desk_of(context).confirm(doing(request, key), tag, rounds);
  auto confirmed = nlohmann::json::array();
  for (const auto& round : done.rounds)
    confirmed.push_back({{"round", round.round}, {"stops", round.stops}, {"number", round.number}});
  return json_response({{"confirmed", std::move(confirmed)}, {"withdrawn", stops_document(done.withdrawn)}}, 201);
}

}  // namespace cellarer::api
