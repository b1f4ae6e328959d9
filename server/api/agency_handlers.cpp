// SPDX-License-Identifier: MIT
// What the agency's administrator does: reads the audit trail and the stock
// ledger, erases a household.
#include "server/access/access_service.hpp"
#include "server/api/desk_documents.hpp"
#include "server/api/handlers.hpp"
#include "server/api/left_out.hpp"
#include "server/api/paging.hpp"
#include "server/household_key.hpp"
#include "server/json/field.hpp"
#include "server/json/texts.hpp"
#include "server/service/review_book.hpp"
#include "server/service/stock_ledger.hpp"

namespace cellarer::api {

namespace {

nlohmann::json link_document(const store::AuditLink& link) {
  nlohmann::json document{{"number", link.number},
                          {"erased", link.erased},
                          {"content_hash", link.content_hash},
                          {"hash", link.hash},
                          {"at", nullptr},
                          {"who", json::text_or_null(link.who)},
                          {"action", json::text_or_null(link.action)},
                          {"subject", json::text_or_null(link.subject)},
                          {"household", nullptr}};
  if (!link.erased) document["at"] = cellarer::json::rfc3339(link.at, nullptr);
  if (!link.household.empty()) document["household"] = reference_of(link.household);
  return document;
}

}  // namespace

Response get_audit(const Context& context, const Request& request, const Parts&) {
  const auto& agency = request.principal->agency;
  const Page page = read_page(request);
  auto found = context.households.audit(agency, numeric_cursor(page), page.limit + 1);
  nlohmann::json next = nullptr;
  if (found.size() > page.limit) {
    found.pop_back();
    next = std::to_string(found.back().number);
  }
  auto links = nlohmann::json::array();
  for (const auto& link : found) links.push_back(link_document(link));
  nlohmann::json document{{"links", links}, {"next", next}};
  if (!numeric_cursor(page)) {  // once, with the first page: the whole chain is computed anew
    const auto faults = context.households.audit_faults(agency);
    document["whole"] = faults.empty();
    document["first_break"] = faults.empty() ? nlohmann::json() : nlohmann::json(faults.front());
  }
  return json_response(document);
}

Response post_erase(const Context& context, const Request& request, const Parts& parts) {
  const auto& household = parts.at("household");
  context.households.last_entry(household);  // an unknown household is said before the body's faults
  const auto document = cellarer::json::parse(request.body);
  const auto named = cellarer::json::Field(document, "")["erase"];
  if (named.text(80) != reference_of(household)) {
    named.refuse("out-of-range", "is not this household's reference: write it once more, exactly");
  }
  const auto& account = request.principal->account;
  int phones = 0;
  for (const auto& row : context.access.store().accounts(request.principal->agency, household)) {
    context.access.end_account(row.account.id, "erased", account);
    ++phones;
  }
  if (context.desk != nullptr) {
    const auto ticks = context.households.clock().now().time_since_epoch().count();
    context.desk->write_off(doing(request, "erase/" + std::to_string(ticks)), household);
  }
  const auto erased = context.households.erase(household, account);
  context.forecasts.forget(household);
  if (context.review != nullptr) context.review->forget(household);
  return json_response({{"household", reference_of(household)},
                        {"entries", erased.entries},
                        {"phones", phones},
                        {"links_left_as_hashes", erased.links},
                        {"text",
                         "Erased. What it had in stock stays in the agency's ledger, of "
                         "its links in the audit trail "
                         "the hashes stay, and backups made before hold it until their "
                         "time is over."}});
}

Response get_stock_ledger(const Context& context, const Request& request, const Parts&) {
  auto lines = nlohmann::json::array();
  for (const auto& line : service::stock_ledger(context.households, request.principal->agency)) {
    lines.push_back({{"item", line.item},
                     {"lot", json::text_or_null(line.lot)},
                     {"received", line.received},
                     {"used", line.used},
                     {"discarded", line.discarded},
                     {"unaccounted", line.unaccounted},
                     {"in_homes", line.in_homes},
                     {"left_with_erased", line.left_with_erased}});
  }
  return json_response({{"as_of", cellarer::json::rfc3339(context.households.clock().now(), nullptr)},
                        {"lines", lines},
                        {"left_out", left_out(context, request)}});
}

}  // namespace cellarer::api
