// SPDX-License-Identifier: MIT
#include "server/api/entry_document.hpp"
#include "server/api/handlers.hpp"
#include "server/api/household_document.hpp"
#include "server/api/household_page.hpp"
#include "server/api/paging.hpp"
#include "server/api/write_door.hpp"
#include "server/household_key.hpp"
#include "server/json/texts.hpp"
#include "server/service/exported_profiles.hpp"

namespace cellarer::api {

namespace {

/// As it was last said, at the desk perhaps; null: none, or the household was erased in this moment.
nlohmann::json area_now(const Context& context, const std::string& household) {
  try {
    return json::text_or_null(context.households.snapshot(household)->record.area.value_or(""));
  } catch (const Problem&) {
    return nullptr;
  }
}

}  // namespace

Response post_household(const Context& context, const Request& request, const Parts&) {
  const auto key = require_key(request);
  const auto document = cellarer::json::parse(request.body);
  const auto fact = service::read_household_fact(cellarer::json::Field(document, ""));
  const std::string& agency = request.principal->agency;
  const auto household = household_key(agency, fact.reference);
  const bool repeated =
      context.households.create(household, document.dump(), household_key(agency, key), request.principal->account);
  const auto snapshot = context.households.snapshot(household);
  auto response = json_response(household_page(snapshot->record, *context.households.profiles().libraries_of(agency),
                                               context.households.clock().now()),
                                201);
  response.set("Location", "/api/v1/households/" + fact.reference);
  if (repeated) response.set("Idempotency-Replayed", "true");
  return response;
}

Response get_households(const Context& context, const Request& request, const Parts&) {
  const Page page = read_page(request);
  // One more than asked for tells whether there is a next page.
  auto found = context.households.households_of(request.principal->agency, page.cursor.value_or(""), page.limit + 1);
  nlohmann::json next = nullptr;
  if (found.size() > page.limit) {
    found.pop_back();
    next = found.back().reference;
  }
  auto households = nlohmann::json::array();
  for (const auto& household : found) {
    const auto key = household_key(request.principal->agency, household.reference);
    households.push_back({{"household", household.reference}, {"area", area_now(context, key)}});
  }
  return json_response({{"households", households}, {"next", next}});
}

Response get_household(const Context& context, const Request& request, const Parts& parts) {
  const auto snapshot = context.households.snapshot(parts.at("household"));
  return json_response(household_page(context, request.principal->agency, *snapshot));
}

Response get_export(const Context& context, const Request& request, const Parts& parts) {
  const auto& household = parts.at("household");
  const auto snapshot = context.households.snapshot(household);
  auto document = household_document(snapshot->record, context.households.clock().now());
  auto profiles = service::exported_profiles(snapshot->record, *snapshot->profiles);
  if (!profiles.is_null()) document["profiles"] = std::move(profiles);
  // Everything as it was recorded, with by whom and when, what was taken back too: nothing is missing.
  document["entries"] = nlohmann::json::array();
  for (const auto& entry : context.households.export_entries(household, request.principal->account)) {
    document["entries"].push_back(entry_document(entry, snapshot->record.life.zone));
  }
  return json_response(document);
}

Response get_entries(const Context& context, const Request& request, const Parts& parts) {
  const auto& household = parts.at("household");
  const Page page = read_page(request);
  const auto snapshot = context.households.snapshot(household);
  auto found = context.households.entries(household, numeric_cursor(page), page.limit + 1);
  nlohmann::json next = nullptr;
  if (found.size() > page.limit) {
    found.pop_back();
    next = std::to_string(found.back().number);
  }
  auto entries = nlohmann::json::array();
  for (const auto& entry : found) entries.push_back(entry_document(entry, snapshot->record.life.zone));
  return json_response({{"entries", entries}, {"next", next}});
}

}  // namespace cellarer::api
