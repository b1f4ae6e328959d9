// SPDX-License-Identifier: MIT
// One's own session, and coming in by an invitation.
#include "server/access/access_service.hpp"
#include "server/access/cookie.hpp"
#include "server/access/staff.hpp"
#include "server/api/access_bodies.hpp"
#include "server/api/access_documents.hpp"
#include "server/api/handlers.hpp"
#include "server/api/phone_services.hpp"
#include "server/json/field.hpp"

namespace cellarer::api {

Response signed_in(const Context& context, const Request& request, const access::AccessService::Opened& opened,
                   const nlohmann::json& said, int status) {
  const auto& before = request.principal;
  if (before && before->session != opened.principal.session) {
    // A phone's account is that phone: as another one's it does not come back.
    if (access::is_phone(before->role) && before->account != opened.principal.account) {
      context.access.end_account(before->account, "replaced", opened.principal.account);
    } else {
      context.access.end_session(before->session, "replaced", opened.principal.account);
    }
  }
  auto response = json_response(said, status);
  response.set("Set-Cookie", access::set_cookie(opened.token));
  response.set("Cache-Control", "no-store");
  return response;
}

Response get_session(const Context&, const Request& request, const Parts&) {
  return json_response(session_document(*request.principal));
}

Response delete_session(const Context& context, const Request& request, const Parts&) {
  context.access.end_session(request.principal->session, "signed-out", request.principal->account);
  context.phone->reminders.end_subscription(request.principal->account);  // what is signed out is pushed nothing
  Response response;
  response.status = 204;
  response.set("Set-Cookie", access::end_cookie());
  return response;
}

Response post_accept(const Context& context, const Request& request, const Parts&) {
  const auto document = json::parse(request.body);
  const auto [code, label] = read_acceptance(json::Field(document, ""));
  if (access::AccessService::needs_passkey(context.access.open_invitation(code))) {
    auto response = json_response({{"passkey_options", context.access.staff().options_for_invitation(code)}});
    response.set("Cache-Control", "no-store");
    return response;
  }
  const auto opened = context.access.accept(code, label);
  return signed_in(context, request, opened, session_document(opened.principal), 201);
}

}  // namespace cellarer::api
