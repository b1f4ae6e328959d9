// SPDX-License-Identifier: MIT
#include "server/api/desk_documents.hpp"

#include "model/rounds/check.hpp"
#include "server/api/desk_sentences.hpp"
#include "server/json/texts.hpp"

namespace cellarer::api {

using service::DeliveryState;

service::PlannerDesk& desk_of(const Context& context) {
  if (context.desk == nullptr) throw Problem(ProblemCode::not_found, "This service plans no rounds.");
  return *context.desk;
}

service::Doing doing(const Request& request, const std::string& key) {
  const auto& principal = *request.principal;
  return {principal.agency, principal.account, principal.label, key};
}

nlohmann::json object_of(const Request& request) {
  auto document = cellarer::json::parse(request.body);
  if (!document.is_object()) cellarer::json::Field(document, "").refuse("wrong-type", "expected an object");
  return document;
}

nlohmann::json date_or_null(const std::optional<rounds::Date>& date) {
  return date ? nlohmann::json(rounds::iso(*date)) : nlohmann::json();
}

nlohmann::json line_document(const service::DeliveryLine& line) {
  auto lots = nlohmann::json::array();
  for (const auto& lot : line.lots) {
    nlohmann::json one{{"lot", json::text_or_null(lot.lot)}, {"packs", lot.packs}, {"expires", nullptr}};
    if (lot.expires) one["expires"] = json::month_text(*lot.expires);
    lots.push_back(std::move(one));
  }
  return {{"item", line.item},
          {"packs", line.packs},
          {"pieces", line.packs * line.pieces_per_pack},
          {"lots", std::move(lots)}};
}

nlohmann::json delivery_document(const service::DeskDelivery& delivery, DeliveryState state, rounds::Date today) {
  auto lines = nlohmann::json::array();
  for (const auto& line : delivery.lines) lines.push_back(line_document(line));
  return {{"round", delivery.round},
          {"date", rounds::iso(delivery.date)},
          {"state", service::name_of(state)},
          {"lines", std::move(lines)},
          {"text", delivery_text(delivery, state, today)}};
}

nlohmann::json left_document(const rounds::Left& left, rounds::Date today) {
  auto reasons = nlohmann::json::array();
  for (const auto why : left.reasons) reasons.push_back(service::name_of(why));
  return {{"household", left.household},
          {"stop", left.address},
          {"item", left.item},
          {"packs", left.packs},
          {"deliver_by", rounds::iso(left.deliver_by)},
          {"late_on", date_or_null(left.late_on)},
          {"risk", left.risk},
          {"reasons", std::move(reasons)},
          {"text", left_text(left, today)}};
}

nlohmann::json stops_document(const std::vector<rounds::ConfirmedStop>& stops) {
  auto list = nlohmann::json::array();
  for (const auto& stop : stops) list.push_back({{"stop", stop.address}, {"round", stop.round}});
  return list;
}

nlohmann::json missing_lots_document(const std::vector<service::MissingLot>& lots) {
  auto list = nlohmann::json::array();
  for (const auto& lot : lots) {
    list.push_back(
        {{"item", lot.item}, {"lot", json::text_or_null(lot.lot)}, {"pieces", lot.pieces}, {"expires", nullptr}});
    if (lot.expires) list.back()["expires"] = json::month_text(*lot.expires);
  }
  return list;
}

nlohmann::json comes_back_document(const std::vector<service::ComesBack>& list) {
  auto lines = nlohmann::json::array();
  for (const auto& one : list) lines.push_back({{"what", one.what}, {"pieces", one.pieces}});
  return lines;
}

nlohmann::json consequence_document(const rounds::Consequence& consequence, rounds::Date today) {
  const auto list = [&](const std::vector<rounds::Left>& lefts) {
    auto lines = nlohmann::json::array();
    for (const auto& left : lefts) {
      lines.push_back(left_document(left, today));
      lines.back().erase("reasons");  // the change is the reason
    }
    return lines;
  };
  nlohmann::json replanned{{"visits_more", consequence.visits_more},
                           {"risk_more", consequence.risk_more_replanned},
                           {"moves", stops_document(consequence.moves)},
                           {"left", nlohmann::json::array()}};
  for (const auto& left : consequence.replanned.left) replanned["left"].push_back(left_document(left, today));
  return {{"falls", list(consequence.falls)},
          {"no_longer", list(consequence.no_longer)},
          {"risk_more", consequence.risk_more},
          {"over_the_limit", consequence.over_the_limit},
          {"leaves_too_soon", consequence.leaves_too_soon},
          {"replanned", std::move(replanned)},
          {"text", consequence_texts(consequence, today)}};
}

}  // namespace cellarer::api
