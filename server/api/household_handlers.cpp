// SPDX-License-Identifier: MIT
#include "server/api/entry_document.hpp"
#include "server/api/handlers.hpp"
#include "server/api/household_document.hpp"
#include "server/api/household_page.hpp"
#include "server/api/paging.hpp"
#include "server/api/write_door.hpp"

namespace cellarer::api {

using nlohmann::json;

Response post_household(const Context& context, const Request& request, const Parts&) {
  const auto key = require_key(request);
  const auto document = cellarer::json::parse(request.body);
  const auto fact = service::read_household_fact(cellarer::json::Field(document, ""));
  const bool repeated = context.households.create(fact, document.dump(), key);
  const auto snapshot = context.households.snapshot(fact.reference);
  auto response = json_response(
      household_page(snapshot->record, context.households.libraries(), context.households.clock().now()), 201);
  response.set("Location", "/api/v1/households/" + fact.reference);
  if (repeated) response.set("Idempotency-Replayed", "true");
  return response;
}

Response get_households(const Context& context, const Request& request, const Parts&) {
  const Page page = read_page(request);
  // One more than asked for tells whether there is a next page.
  auto found = context.households.households(page.cursor.value_or(""), page.limit + 1);
  json next = nullptr;
  if (found.size() > page.limit) {
    found.pop_back();
    next = found.back().reference;
  }
  auto households = json::array();
  for (const auto& household : found) {
    const auto document = json::parse(household.document);
    households.push_back({{"household", household.reference}, {"area", document.value("area", json())}});
  }
  return json_response({{"households", households}, {"next", next}});
}

Response get_household(const Context& context, const Request&, const Parts& parts) {
  const auto snapshot = context.households.snapshot(parts.at("household"));
  return json_response(
      household_page(snapshot->record, context.households.libraries(), context.households.clock().now()));
}

Response get_export(const Context& context, const Request&, const Parts& parts) {
  const auto snapshot = context.households.snapshot(parts.at("household"));
  return json_response(household_document(snapshot->record, context.households.clock().now()));
}

Response get_entries(const Context& context, const Request& request, const Parts& parts) {
  const auto& household = parts.at("household");
  const Page page = read_page(request);
  const auto snapshot = context.households.snapshot(household);
  auto found = context.households.entries(household, numeric_cursor(page), page.limit + 1);
  json next = nullptr;
  if (found.size() > page.limit) {
    found.pop_back();
    next = std::to_string(found.back().number);
  }
  auto entries = json::array();
  for (const auto& entry : found) entries.push_back(entry_document(entry, snapshot->record.life.zone));
  return json_response({{"entries", entries}, {"next", next}});
}

}  // namespace cellarer::api
