// SPDX-License-Identifier: MIT
// Phones of a household, staff of an agency, agencies.
#include "server/api/access_documents.hpp"
#include "server/api/gate.hpp"
#include "server/api/handlers.hpp"
#include "server/household_key.hpp"
#include "server/json/field.hpp"

namespace cellarer::api {

using access::Permission;

namespace {

Response no_content() {
  Response response;
  response.status = 204;
  return response;
}

[[noreturn]] void unknown_account() {
  throw Problem(ProblemCode::unknown_account,
                "There is no such phone or account here: it has ended, or the address is wrong.");
}

/// An account of the agency, as the one asks who is signed in; the same answer for others' as for none.
store::StoredAccount require_account(const Context& context, const Request& request, const std::string& id) {
  const auto account = context.access.store().account(id);
  const bool there = account && account->bound_at && !account->ended_at;
  if (!there || account->agency != request.principal->agency) unknown_account();
  return *account;
}

const char* why_ended(const Request& request) {
  return access::is_phone(request.principal->role) ? "by-phone" : "by-agency";
}

}  // namespace

Response get_phones(const Context& context, const Request& request, const Parts& parts) {
  const auto& household = parts.at("household");
  context.households.last_entry(household);  // throws where there is none
  auto phones = nlohmann::json::array();
  for (const auto& row : context.access.store().accounts(request.principal->agency, household)) {
    auto phone = account_document(row);
    phone["this_phone"] = row.account.id == request.principal->account;
    phones.push_back(std::move(phone));
  }
  return json_response({{"phones", std::move(phones)}});
}

Response delete_phone(const Context& context, const Request& request, const Parts& parts) {
  context.households.last_entry(parts.at("household"));
  const auto account = require_account(context, request, parts.at("account"));
  if (account.household != parts.at("household")) unknown_account();
  context.access.end_account(account.id, why_ended(request), request.principal->account);
  return no_content();
}

Response get_accounts(const Context& context, const Request& request, const Parts&) {
  auto accounts = nlohmann::json::array();
  for (const auto& row : context.access.store().accounts(request.principal->agency, "")) {
    auto account = account_document(row);
    account["this_account"] = row.account.id == request.principal->account;
    accounts.push_back(std::move(account));
  }
  return json_response({{"accounts", std::move(accounts)}});
}

Response delete_account(const Context& context, const Request& request, const Parts& parts) {
  const auto account = require_account(context, request, parts.at("account"));
  context.access.end_account(account.id, why_ended(request), request.principal->account);
  return no_content();
}

/// One's own, or with `manage-accounts` those of others of the agency.
Response get_account_sessions(const Context& context, const Request& request, const Parts& parts) {
  const auto& id = parts.at("account");
  if (id != request.principal->account) require(request, Permission::manage_accounts);
  const auto account = require_account(context, request, id);
  auto sessions = nlohmann::json::array();
  for (const auto& session : context.access.store().sessions_of(account.id, context.access.clock().now())) {
    auto line = session_line(session);
    line["label"] = account.label;
    line["this_session"] = session.id == request.principal->session;
    sessions.push_back(std::move(line));
  }
  return json_response({{"sessions", std::move(sessions)}});
}

Response delete_other_session(const Context& context, const Request& request, const Parts& parts) {
  const auto owner = context.access.sessions().owner(parts.at("session"));
  if (!owner || owner->account != request.principal->account) require(request, Permission::manage_accounts);
  if (!owner || owner->agency != request.principal->agency) unknown_account();
  if (!context.access.end_session(owner->session, why_ended(request), request.principal->account)) unknown_account();
  return no_content();
}

Response get_agencies(const Context& context, const Request&, const Parts&) {
  auto agencies = nlohmann::json::array();
  for (const auto& size : context.access.store().agencies()) {
    agencies.push_back({{"agency", size.reference}, {"households", size.households}, {"accounts", size.accounts}});
  }
  return json_response({{"agencies", std::move(agencies)}});
}

Response post_agency(const Context& context, const Request& request, const Parts&) {
  const auto document = json::parse(request.body);
  const json::Field agency = json::Field(document, "")["agency"];
  const auto reference = agency.text(40);
  if (!is_agency_reference(reference)) agency.refuse("out-of-range", "expected small letters, digits and - only");
  if (!context.access.store().add_agency(reference, {request.principal->account, context.access.clock().now()})) {
    throw Problem(ProblemCode::agency_exists, "The agency " + reference + " is there already: take another reference.");
  }
  return json_response({{"agency", reference}}, 201);
}

}  // namespace cellarer::api
