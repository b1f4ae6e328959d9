// SPDX-License-Identifier: MIT
// Looking at lots: all of them, one of them, whom to call.
#include "server/api/lot_handlers.hpp"

#include "server/access/access_service.hpp"
#include "server/api/csv_response.hpp"
#include "server/api/left_out.hpp"
#include "server/api/lot_documents.hpp"
#include "server/api/lot_request.hpp"
#include "server/api/sentences.hpp"
#include "server/household_key.hpp"
#include "server/json/field.hpp"
#include "server/service/planner_desk.hpp"

namespace cellarer::api {

using service::LotName;
using service::LotStory;

namespace {

std::string asked(const Request& request, const char* name) {
  const auto found = request.query.find(name);
  const nlohmann::json value = found == request.query.end() ? nlohmann::json() : nlohmann::json(found->second);
  return value.is_null() ? "" : cellarer::json::Field(value, std::string("?") + name).text(60);
}

struct AskedLot {
  LotName lot;           ///< by its right number
  std::string asked_as;  ///< empty: as it is
  LotStory story;
  service::Lots facts;
  const service::LotRecall* recall() const { return facts->recall_of(lot); }
};

AskedLot asked_lot(const Context& context, const Request& request) {
  const auto& agency = request.principal->agency;
  const auto number = asked(request, "lot");
  if (number.empty()) throw cellarer::json::Refused("missing", "?lot", "is required: the number of a lot");
  const auto item = asked(request, "item");
  AskedLot one;
  one.facts = context.households.lots_of_agency(agency);
  one.lot = {item.empty() ? stock::cells_item : item, number};
  one.lot.lot = one.facts->right(one.lot);
  if (one.lot.lot != number) one.asked_as = number;
  auto story = service::lot_story(context.households, agency, one.lot);
  if (!story)
    throw Problem(ProblemCode::unknown_lot,
                  "Neither a home nor the agency's store has or had lot " + number + " of " + one.lot.item + ".");
  one.story = std::move(*story);
  return one;
}

std::string now_text(const Context& context) {
  return cellarer::json::rfc3339(context.households.clock().now(), nullptr);
}

/// What the planner's list says of a side; nothing where its row is not made from what is known now.
std::optional<nlohmann::json> as_listed(const Context& context, const std::string& household, bool left) {
  if (context.desk == nullptr) return std::nullopt;
  const auto outlook = context.desk->board(agency_of(household)).outlook(household);
  if (!outlook) return std::nullopt;
  const service::SideSays& side = outlook->sides[left ? 0 : 1];
  return nlohmann::json{
      {"change_by", side.change_by ? nlohmann::json(cellarer::json::rfc3339(*side.change_by, outlook->zone)) : nullptr},
      {"phrase", service::name_of(side.phrase)}};
}

/// What the forecasts say of the sides that hold it: those of the list, which are made beside the service; else made
/// now.
void add_forecasts(const Context& context, const std::string& agency, nlohmann::json& sides) {
  for (nlohmann::json& side : sides) {
    const auto household = household_key(agency, side["household"].get<std::string>());
    const auto name = side["side"].get<std::string>();
    if (const auto listed = as_listed(context, household, name == "left")) {
      side.update(*listed);
      continue;
    }
    const auto forecast = nlohmann::json::parse(*context.forecasts.get(household)->forecast);
    const auto& of_side = forecast["sides"][name];
    side["change_by"] = of_side["change_by"];
    side["phrase"] = of_side["phrase"];
  }
}

}  // namespace

LabelOf labels_of(const Context& context) {
  return [&store = context.access.store()](const std::string& account) {
    const auto found = account.empty() ? std::nullopt : store.account(account);
    return found ? found->label : std::string();
  };
}

Response get_lots(const Context& context, const Request& request, const Parts&) {
  const auto& agency = request.principal->agency;
  const auto facts = context.households.lots_of_agency(agency);
  auto lots = nlohmann::json::array();
  for (const auto& line : service::all_lots(context.households, agency)) {
    lots.push_back(lot_line_document(line, *facts));
    const auto* recall = facts->recall_of(line.lot);
    lots.back()["recalled"] = nullptr;
    if (recall == nullptr) continue;
    const auto story = service::lot_story(context.households, agency, line.lot);
    lots.back()["recalled"] = recall_document(*story, recall, labels_of(context));
  }
  return json_response({{"as_of", now_text(context)}, {"lots", lots}, {"left_out", left_out(context, request)}});
}

Response get_lot(const Context& context, const Request& request, const Parts&) {
  const auto& agency = request.principal->agency;
  const auto one = asked_lot(context, request);
  auto document = lot_document(one.story, service::how_it_did(*context.review, one.story));
  add_forecasts(context, agency, document["sides"]);
  document["as_of"] = now_text(context);
  document["disclaimer"] = disclaimer;
  document["left_out"] = left_out(context, request);
  document["asked_as"] = one.asked_as.empty() ? nlohmann::json() : nlohmann::json(one.asked_as);
  document["written_as"] = one.facts->written_as(one.lot);
  document["recalled"] = recall_document(one.story, one.recall(), labels_of(context));
  return json_response(document);
}

Response get_lot_lines(const Context& context, const Request& request, const Parts&) {
  const auto one = asked_lot(context, request);
  return with_left_out(context, request, csv_response(lot_lines(one.story), "lot.csv"));
}

Response get_recall_calls(const Context& context, const Request& request, const Parts&) {
  const auto one = asked_lot(context, request);
  return json_response({{"as_of", now_text(context)},
                        {"item", one.lot.item},
                        {"lot", one.lot.lot},
                        {"recalled", recall_document(one.story, one.recall(), labels_of(context))},
                        {"calls", calls_document(one.story, one.recall())},
                        {"left_out", left_out(context, request)}});
}

Response get_recall_call_lines(const Context& context, const Request& request, const Parts&) {
  const auto one = asked_lot(context, request);
  return with_left_out(context, request, csv_response(call_lines(one.story, one.recall()), "calls.csv"));
}

Response get_lot_corrections(const Context& context, const Request& request, const Parts&) {
  const auto facts = context.households.lots_of_agency(request.principal->agency);
  const auto label = labels_of(context);
  auto all = nlohmann::json::array();
  for (const auto& [wrong, correction] : facts->corrected) {
    all.push_back({{"entry", correction.entry},
                   {"item", wrong.item},
                   {"from", wrong.lot},
                   {"to", correction.to},
                   {"at", cellarer::json::rfc3339(correction.at, nullptr)},
                   {"by", label(correction.account)}});
  }
  return json_response({{"corrections", all}});
}

}  // namespace cellarer::api
