// SPDX-License-Identifier: MIT
// How staff come in, by passkey; and recovery codes, of staff and of households.
#include "server/access/access_service.hpp"
#include "server/access/lifetimes.hpp"
#include "server/access/recovery.hpp"
#include "server/access/staff.hpp"
#include "server/api/access_documents.hpp"
#include "server/api/handlers.hpp"
#include "server/json/field.hpp"

namespace cellarer::api {

using json::Field;

namespace {

Response no_store(Response response) {
  response.set("Cache-Control", "no-store");
  return response;
}

/// Passkeys are for staff; phones come in by invitation.
const access::Principal& require_staff(const Request& request) {
  if (!request.principal) {
    throw Problem(ProblemCode::not_signed_in, "Sign in first, or send the code of the invitation.");
  }
  if (access::is_phone(request.principal->role)) {
    throw Problem(ProblemCode::not_allowed, "Phones are signed in by invitation and need no passkey.");
  }
  return *request.principal;
}

/// Whoever finds a desk unlocked is not to make himself a way in that lasts.
const access::Principal& require_fresh(const Context& context, const Request& request) {
  const auto& principal = require_staff(request);
  if (context.access.clock().now() - principal.signed_in_at <= access::fresh_sign_in) return principal;
  Problem problem(ProblemCode::not_allowed,
                  "Sign in with a passkey again first: a further one is made within 15 "
                  "minutes of that.");
  problem.more["sign_in_again"] = true;
  throw problem;
}

}  // namespace

Response post_passkey_options(const Context& context, const Request& request, const Parts&) {
  const auto options = context.access.staff().options_for_account(require_fresh(context, request));
  return no_store(json_response({{"passkey_options", options}}));
}

/// With the code of an invitation: the first, and the account is bound. Without: a further one.
Response post_passkey(const Context& context, const Request& request, const Parts&) {
  const auto document = json::parse(request.body);
  const Field body(document, "");
  const auto code = body.find("code");
  if (!code) {
    const auto& principal = require_fresh(context, request);
    context.access.staff().add_passkey(principal, body["credential"]);
    return no_store(json_response(session_document(principal), 201));
  }
  const auto bound = context.access.staff().bind(code->text(100), body["credential"]);
  auto said = session_document(bound.opened.principal);
  said["recovery_codes"] = bound.recovery_codes;
  return signed_in(context, request, bound.opened, said, 201);
}

Response post_sign_in_options(const Context& context, const Request&, const Parts&) {
  const auto sign_in = context.access.staff().options_for_sign_in();
  return no_store(json_response({{"challenge_id", sign_in.challenge_id}, {"options", sign_in.options}}));
}

Response post_sign_in(const Context& context, const Request& request, const Parts&) {
  const auto document = json::parse(request.body);
  const Field body(document, "");
  const auto opened = context.access.staff().sign_in(body["challenge_id"].text(100), body["credential"]);
  return signed_in(context, request, opened, session_document(opened.principal), 200);
}

Response post_recovery(const Context& context, const Request& request, const Parts&) {
  const auto document = json::parse(request.body);
  const auto opened = access::recover(context.access, Field(document, "")["code"].text(100));
  auto said = session_document(opened.principal);
  said["new_code_needed"] = access::is_phone(opened.principal.role);
  return signed_in(context, request, opened, said, 200);
}

Response post_sealed_code(const Context& context, const Request& request, const Parts& parts) {
  const auto& household = parts.at("household");
  context.households.last_entry(household);  // throws where there is none
  const auto code = access::make_sealed_code(context.access, *request.principal, household);
  return no_store(json_response({{"code", code}}, 201));
}

}  // namespace cellarer::api
