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

/// Homes with so many rows to make are made for whoever asks, as the list does it.
constexpr std::size_t rows_made_at_once = 8;
/// How its sets did is said of the homes that are looked at in that time.
constexpr std::chrono::seconds reviewed_within{1};

/// What the planner's list says of the sides; those whose row is being made anew have neither phrase nor date until it
/// is: what they said before, a recall may have made untrue. How many those are.
int add_listed(service::AgencyBoard& board, const std::string& agency, nlohmann::json& sides) {
  int being_made = 0;
  for (nlohmann::json& side : sides) {
    const auto listed = board.outlook(household_key(agency, side["household"].get<std::string>()));
    side["change_by"] = nullptr;
    side["phrase"] = listed.failed ? nlohmann::json(service::name_of(life::Phrase::no_forecast)) : nlohmann::json();
    if (listed.failed) continue;
    if (!listed.outlook) {
      ++being_made;
      continue;
    }
    const service::SideSays& says = listed.outlook->sides[side["side"] == "left" ? 0 : 1];
    side["phrase"] = service::name_of(says.phrase);
    if (says.change_by) side["change_by"] = cellarer::json::rfc3339(*says.change_by, listed.outlook->zone);
  }
  return being_made;
}

/// What the forecasts say of the sides that hold it: nobody waits here until the list is made anew, which takes minutes
/// after a recall. How many sides do.
int add_forecasts(const Context& context, const std::string& agency, nlohmann::json& sides) {
  if (context.desk != nullptr) {
    const auto held = context.desk->board(agency);
    auto& board = *held;
    const int being_made = add_listed(board, agency, sides);
    const auto made = board.progress();
    if (being_made == 0 || made.of - made.computed > rows_made_at_once) return being_made;
    board.catch_up();
    return add_listed(board, agency, sides);
  }
  for (nlohmann::json& side : sides) {
    const auto household = household_key(agency, side["household"].get<std::string>());
    const auto forecast = nlohmann::json::parse(*context.forecasts.get(household)->forecast);
    const auto& of_side = forecast["sides"][side["side"].get<std::string>()];
    side["change_by"] = of_side["change_by"];
    side["phrase"] = of_side["phrase"];
  }
  return 0;
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
  auto document = lot_document(one.story, service::how_it_did(*context.review, one.story, reviewed_within));
  document["being_made"] = add_forecasts(context, agency, document["sides"]);
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
