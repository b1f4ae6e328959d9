// SPDX-License-Identifier: MIT
// What is said of lots: called back, taken back, written wrongly, and that a home was told.
#include "server/api/fact_handler.hpp"
#include "server/api/lot_documents.hpp"
#include "server/api/lot_handlers.hpp"
#include "server/api/write_door.hpp"
#include "server/service/facts.hpp"

namespace cellarer::api {

using cellarer::json::Field;
using service::LotName;
namespace agency_kind = service::agency_kind;

namespace {

/// Never the number of an entry: what follows it is stored only where it was stored before, under the same key.
constexpr std::int64_t follows_nothing = -1;

std::string subject_of(const LotName& lot) { return lot.item + "/" + lot.lot; }

/// Number of the newest entry of that kind and subject, 0 where there is none.
std::int64_t newest(const service::AgencyJournal::Entries& entries, const char* kind, const std::string& subject) {
  std::int64_t number = 0;
  for (const auto& entry : *entries) {
    if (entry.kind == kind && entry.subject == subject) number = entry.number;
  }
  return number;
}

/// Writes a body about a lot; `may` says whether it is to be written anew, or only answered where it was sent before.
store::StoredAgencyEntry write(const Context& context, const Request& request, const char* kind, const LotName& lot,
                               const nlohmann::json& body, bool may) {
  const auto& agency = request.principal->agency;
  auto& journal = context.households.journal();
  const auto subject = subject_of(lot);
  const auto follows = may ? newest(journal.of(agency), kind, subject) : follows_nothing;
  return journal.record({agency, kind, subject, body.dump(), require_key(request), request.principal->account, follows})
      .entry;
}

nlohmann::json recall_answer(const Context& context, const std::string& agency, const LotName& lot,
                             const store::StoredAgencyEntry& entry, const std::string& said) {
  const auto story = service::lot_story(context.households, agency, lot);
  const service::LotLine line = story ? story->line : service::LotLine{};
  return {{"entry", entry.number},
          {"item", lot.item},
          {"lot", lot.lot},
          {"at", cellarer::json::rfc3339(entry.recorded_at, nullptr)},
          {"sides", line.in_sides},
          {"homes", story ? static_cast<int>(calls_in_order(*story, nullptr).size()) : 0},
          {"sentence", said + " " + lot_sentence(line)}};
}

[[noreturn]] void already_recalled(const LotName& lot) {
  throw Problem(ProblemCode::already_recalled, "Lot " + lot.lot + " of " + lot.item + " is recalled already.");
}

[[noreturn]] void not_recalled(const LotName& lot) {
  throw Problem(ProblemCode::not_recalled, "Lot " + lot.lot + " of " + lot.item + " is not recalled.");
}

/// The number under which it was recalled: a wrong one may have been.
LotName as_recalled(const service::AgencyJournal::Entries& entries, const service::LotRecall& recall) {
  for (const auto& entry : *entries) {
    if (entry.number != recall.entry) continue;
    const auto body = nlohmann::json::parse(entry.body);
    return {body.at("item").get<std::string>(), body.at("lot").get<std::string>()};
  }
  return {};
}

}  // namespace

Response post_recall(const Context& context, const Request& request, const Parts&) {
  const auto& agency = request.principal->agency;
  const auto document = cellarer::json::parse(request.body);
  const auto facts = context.households.lots_of_agency(agency);
  const auto asked = service::read_recall(Field(document, ""));
  const LotName lot{asked.lot.item, facts->right(asked.lot)};
  nlohmann::json entry{{"item", lot.item}, {"lot", lot.lot}, {"recalled", true}};
  if (asked.why) entry["why"] = *asked.why;
  const bool may = facts->recall_of(lot) == nullptr;
  try {
    const auto written = write(context, request, agency_kind::lot_recall, lot, entry, may);
    return json_response(recall_answer(context, agency, lot, written, "Lot " + lot.lot + " is recalled."), 201);
  } catch (const Problem& problem) {
    if (problem.code() == ProblemCode::outdated) already_recalled(lot);
    throw;
  }
}

Response post_recall_undo(const Context& context, const Request& request, const Parts&) {
  const auto& agency = request.principal->agency;
  const auto document = cellarer::json::parse(request.body);
  const auto facts = context.households.lots_of_agency(agency);
  const auto asked = service::read_recall(Field(document, ""));
  const LotName lot{asked.lot.item, facts->right(asked.lot)};
  const auto* recall = facts->recall_of(lot);
  const LotName written_as = recall != nullptr ? as_recalled(context.households.journal().of(agency), *recall) : lot;
  const nlohmann::json entry{{"item", written_as.item}, {"lot", written_as.lot}, {"recalled", false}};
  try {
    const auto written = write(context, request, agency_kind::lot_recall, written_as, entry, recall != nullptr);
    return json_response(recall_answer(context, agency, lot, written, "Lot " + lot.lot + " is recalled no longer."),
                         201);
  } catch (const Problem& problem) {
    if (problem.code() == ProblemCode::outdated) not_recalled(lot);
    throw;
  }
}

Response post_recall_call(const Context& context, const Request& request, const Parts& parts) {
  return record_fact(context, request, parts, service::kind::recall_call, [](const Context& at, const Field& body) {
    service::read_recall_call(body, {}, "");
    return at.households.clock().now();
  });
}

Response post_lot_correction(const Context& context, const Request& request, const Parts&) {
  const auto& agency = request.principal->agency;
  const auto document = cellarer::json::parse(request.body);
  const Field body(document, "");
  const auto [from, to] = service::read_lot_correction(body);
  const auto facts = context.households.lots_of_agency(agency);
  nlohmann::json entry{{"item", from.item}, {"from", from.lot}, {"to", nullptr}};
  if (to && facts->right({from.item, *to}) == from.lot)
    body["to"].refuse("out-of-range", "was itself corrected to " + from.lot + ": take that back first");
  if (to) entry["to"] = *to;
  const auto before = service::lot_story(context.households, agency, from);
  const int uses = before ? before->line.used_sets + static_cast<int>(before->homes.size()) : 0;
  const auto written = write(context, request, agency_kind::lot_correction, from, entry, true);
  return json_response(
      {{"entry", written.number},
       {"item", from.item},
       {"from", from.lot},
       {"to", entry["to"]},
       {"uses", uses},
       {"sentence", to ? "Lot " + from.lot + " is read as " + *to + " everywhere, before and from now on."
                       : "Lot " + from.lot + " stands as it was written."}},
      201);
}

}  // namespace cellarer::api
