// SPDX-License-Identifier: MIT
// What the agency enters for "Something is wrong now".
#include "server/api/handlers.hpp"
#include "server/api/help_document.hpp"
#include "server/api/write_door.hpp"
#include "server/json/field.hpp"

namespace cellarer::api {

using service::AgencyHelp;

namespace {

nlohmann::json or_null(const std::optional<std::string>& text) {
  return text ? nlohmann::json(*text) : nlohmann::json(nullptr);
}

nlohmann::json whole(const AgencyHelp& help) {
  auto steps = nlohmann::json::array();
  for (const auto& step : help.steps) {
    steps.push_back({{"words", step.words}});
    if (step.more) steps.back()["more"] = *step.more;
  }
  return {{"number", or_null(help.number)},
          {"label", or_null(help.label)},
          {"steps", steps},
          {"approved_on", or_null(help.approved_on)},
          {"approved_by", or_null(help.approved_by)}};
}

nlohmann::json answer(const AgencyHelp& help) {
  nlohmann::json document{{"help", help.entry == 0 ? nlohmann::json(nullptr) : whole(help)},
                          {"entry", help.entry},
                          {"recorded_at", nullptr}};
  if (help.entry != 0) document["recorded_at"] = cellarer::json::rfc3339(help.recorded_at, nullptr);
  return document;
}

}  // namespace

nlohmann::json help_for_household(const AgencyHelp& help) {
  if (help.entry == 0) return nullptr;
  auto document = whole(help);
  if (help.is_approved()) return document;
  document.erase("steps");
  document["approved_on"] = document["approved_by"] = nullptr;
  return document;
}

Response get_help(const Context& context, const Request& request, const Parts&) {
  return json_response(answer(service::help_of(*context.households.journal().of(request.principal->agency))));
}

Response post_help(const Context& context, const Request& request, const Parts&) {
  const auto key = require_key(request);
  const auto document = cellarer::json::parse(request.body);
  const cellarer::json::Field body(document, "");
  service::read_help(body);
  std::optional<std::int64_t> follows;
  if (const auto known = body.find("follows")) follows = known->integer(0, 2'000'000'000);
  nlohmann::json kept = document;
  kept.erase("follows");
  const auto& principal = *request.principal;
  auto& journal = context.households.journal();
  const auto recorded =
      journal.record({principal.agency, service::help_kind, "", kept.dump(), key, principal.account, follows});
  auto response = json_response(answer(service::help_of(*journal.of(principal.agency))), 201);
  if (recorded.repeated) response.set("Idempotency-Replayed", "true");
  return response;
}

}  // namespace cellarer::api
