// SPDX-License-Identifier: MIT
// The draft of a plan, and a round as it stands.
#include "model/rounds/check.hpp"
#include "server/api/desk_documents.hpp"
#include "server/json/texts.hpp"

namespace cellarer::api {

using service::PlanDraft;

namespace {

nlohmann::json figures_document(const PlanDraft& draft) {
  const auto& figures = draft.plan.figures;
  return {{"visits", figures.visits},
          {"visits_bound", figures.visits_bound ? nlohmann::json(*figures.visits_bound) : nlohmann::json()},
          {"gap", figures.gap() ? nlohmann::json(*figures.gap()) : nlohmann::json()},
          {"risk", figures.risk},
          {"risk_bound", figures.risk_bound},
          {"confirmed", figures.confirmed},
          {"moved", figures.moved},
          {"least_visits_proven", figures.least_visits_proven},
          {"proven", figures.proven},
          {"stock_short", figures.stock_short},
          {"seconds", draft.seconds}};
}

nlohmann::json stop_document(const rounds::PlannedStop& stop,
                             const std::map<std::string, std::vector<std::string>>& doors) {
  auto lines = nlohmann::json::array();
  bool late = false;
  for (const auto& delivery : stop.deliveries) {
    auto lots = nlohmann::json::array();
    for (const auto& part : delivery.parts) {
      nlohmann::json lot{{"lot", json::text_or_null(part.lot)}, {"packs", part.packs}, {"expires", nullptr}};
      if (part.expires) lot["expires"] = json::month_text(*part.expires);
      lots.push_back(std::move(lot));
    }
    late = late || delivery.late;
    nlohmann::json* before = nullptr;  // pack by pack in the plan, one line for people
    for (nlohmann::json& line : lines) {
      const bool same = line["household"] == delivery.household && line["item"] == delivery.item;
      if (same && line["late"] == delivery.late) before = &line;
    }
    if (before == nullptr) {
      lines.push_back({{"household", delivery.household},
                       {"item", delivery.item},
                       {"packs", delivery.packs},
                       {"late", delivery.late},
                       {"lots", std::move(lots)}});
      continue;
    }
    (*before)["packs"] = (*before)["packs"].get<int>() + delivery.packs;
    for (nlohmann::json& lot : lots) {
      bool added = false;
      for (nlohmann::json& there : (*before)["lots"]) {
        if (there["lot"] != lot["lot"]) continue;
        there["packs"] = there["packs"].get<int>() + lot["packs"].get<int>();
        added = true;
      }
      if (!added) (*before)["lots"].push_back(std::move(lot));
    }
  }
  const auto door = doors.find(stop.address);
  return {{"stop", stop.address},
          {"households", door == doors.end() ? std::vector<std::string>{} : door->second},
          {"confirmed", stop.confirmed},
          {"pinned", stop.pinned},
          {"late", late},
          {"lines", std::move(lines)}};
}

nlohmann::json round_head(const rounds::Round& round, const service::AgencyRecord& agency) {
  return {{"round", round.id},
          {"area", round.area},
          {"date", rounds::iso(round.date)},
          {"state", service::name_of(agency.state_of(round.id))},
          {"stops_at_most", round.stops},
          {"number", agency.number_of(round.id)}};
}

nlohmann::json rounds_of_draft(const PlanDraft& draft) {
  std::map<std::string, std::vector<std::string>> doors;
  for (const auto& household : draft.material.input.households)
    doors[rounds::stop_key(household)].push_back(household.reference);
  std::map<std::string, nlohmann::json> stops;
  for (const auto& stop : draft.plan.stops) {
    auto& list = stops[stop.round];
    if (list.is_null()) list = nlohmann::json::array();
    list.push_back(stop_document(stop, doors));
  }
  const auto changed = service::changed_rounds(draft);
  auto list = nlohmann::json::array();
  for (const auto& round : draft.frame.coming.all) {
    const auto at = stops.find(round.id);
    const bool on_book = draft.frame.agency.state_of(round.id) == service::RoundState::planned;
    if (at == stops.end() && !on_book) continue;
    nlohmann::json document = round_head(round, draft.frame.agency);
    document["stops"] = at == stops.end() ? nlohmann::json::array() : std::move(at->second);
    document["changed"] = changed.count(round.id) > 0;
    list.push_back(std::move(document));
  }
  return list;
}

}  // namespace

nlohmann::json plan_draft_document(const PlanDraft& draft, Zone zone) {
  auto left = nlohmann::json::array(), not_planned = nlohmann::json::array();
  const auto today = draft.frame.coming.today;
  for (const auto& one : draft.plan.left) left.push_back(left_document(one, today));
  for (const auto& one : draft.material.not_planned)
    not_planned.push_back({{"household", one.household}, {"what", one.what}, {"remedy", one.remedy}});
  return {{"plan", draft.tag},
          {"as_of", cellarer::json::rfc3339(draft.as_of, zone)},
          {"zone_now", zone->name()},
          {"figures", figures_document(draft)},
          {"rounds", rounds_of_draft(draft)},
          {"moved", stops_document(draft.plan.moved)},
          {"left", std::move(left)},
          {"not_planned", std::move(not_planned)}};
}

nlohmann::json round_document(service::PlannerDesk& desk, const std::string& agency_name, const service::LotFacts& lots,
                              const std::string& name, Instant now) {
  const auto held = desk.board(agency_name);
  auto& board = *held;
  const auto frame = board.frame();
  const Zone zone = board.zone();
  const auto* booked = frame.agency.round(name);
  const auto* coming = frame.coming.named(name);
  if (booked == nullptr && coming == nullptr) return nullptr;
  nlohmann::json document = round_head(booked != nullptr ? booked->round : *coming, frame.agency);
  document["zone_now"] = zone->name();
  document["as_of"] = cellarer::json::rfc3339(now, zone);
  std::map<std::string, nlohmann::json> stops;
  std::map<std::pair<std::string, std::string>, int> pieces;
  for (const auto& one : desk.on_round(agency_name, name)) {
    const auto& delivery = *one.desk.delivery_on(name);
    const auto astray = service::astray_of(delivery, frame.agency);
    nlohmann::json& stop = stops[service::stop_of(one)];
    if (stop.is_null()) stop = {{"stop", service::stop_of(one)}, {"lines", nlohmann::json::array()}};
    for (const auto& line : delivery.lines) {
      nlohmann::json entry = line_document(line);
      entry["household"] = one.household;
      entry["state"] = service::name_of(service::state_of(delivery, frame.agency, now));
      int did_not_come = 0;
      for (const auto& lot : astray)
        if (lot.item == line.item) did_not_come += lot.pieces;
      entry["did_not_come"] = did_not_come;
      entry["packs_are"] = service::name_of(delivery.whereabouts);
      entry["answered_at"] = delivery.answered_at ? nlohmann::json(cellarer::json::rfc3339(*delivery.answered_at, zone))
                                                  : nlohmann::json();
      for (const auto& lot : line.lots) pieces[{line.item, lot.lot}] += lot.packs * line.pieces_per_pack;
      for (nlohmann::json& lot : entry["lots"])
        lot["recalled"] =
            lots.recall_of({line.item, lot["lot"].is_null() ? "" : lot["lot"].get<std::string>()}) != nullptr;
      stop["lines"].push_back(std::move(entry));
    }
  }
  document["stops"] = nlohmann::json::array();
  for (auto& [key, stop] : stops) document["stops"].push_back(std::move(stop));
  document["picking"] = nlohmann::json::array();
  document["history"] = nlohmann::json::array();
  if (booked == nullptr) return document;
  for (const auto& lot : booked->totals) {
    document["picking"].push_back(
        {{"item", lot.item},
         {"lot", json::text_or_null(lot.lot)},
         {"packs", lot.packs},
         {"pieces", pieces[{lot.item, lot.lot}]},
         {"recalled", lot.recalled},
         {"expires", lot.expires ? nlohmann::json(json::month_text(*lot.expires)) : nlohmann::json()}});
  }
  for (const auto& step : booked->history) {
    document["history"].push_back({{"state", service::name_of(step.state)},
                                   {"at", cellarer::json::rfc3339(step.at, zone)},
                                   {"number", step.number}});
  }
  return document;
}

}  // namespace cellarer::api
