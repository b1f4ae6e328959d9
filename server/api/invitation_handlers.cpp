// SPDX-License-Identifier: MIT
// Inviting phones and staff.
#include <algorithm>

#include "server/access/qr_code.hpp"
#include "server/api/access_bodies.hpp"
#include "server/api/access_documents.hpp"
#include "server/api/handlers.hpp"
#include "server/household_key.hpp"
#include "server/json/field.hpp"
#include "server/service/facts.hpp"

namespace cellarer::api {

using access::Role;
using json::Field;

namespace {

/// The operator names the agency; everybody else's is his own.
std::string read_agency(const Context& context, const Request& request, const Field& body) {
  const auto& principal = *request.principal;
  if (access::has_agency(principal.role)) return principal.agency;
  const auto agency = body["agency"].text(40);
  if (!context.access.store().has_agency(agency)) body["agency"].refuse("out-of-range", "is no agency: make it first");
  return agency;
}

/// The household of an invited phone, as its key; a phone invites to its own.
std::string read_household_key(const Context& context, const Request& request, const Field& body) {
  const auto& principal = *request.principal;
  const auto named = body.find("household");
  if (!principal.household_key.empty()) {
    if (named && household_key(principal.agency, named->text(64)) != principal.household_key) {
      throw service::unknown_household(named->text(64));
    }
    return principal.household_key;
  }
  const auto key = household_key(principal.agency, body["household"].text(64));
  context.households.last_entry(key);  // throws where there is none
  return key;
}

/// Its hours are by the household's clock.
void read_guest(const Context& context, const Field& body, access::Wish& wish) {
  const auto snapshot = context.households.snapshot(wish.household_key);
  wish.zone = snapshot->record.life.zone->name();
  const auto terms = read_guest_terms(body);
  wish.hours = terms.hours;
  wish.until = terms.until;
  if (terms.until <= context.access.clock().now()) body["until"].refuse("out-of-range", "is over: give a time to come");
}

/// Open invitations that whoever asks could have sent: only those are shown, and only those taken back.
std::vector<store::InvitationRow> open_invitations(const Context& context, const Request& request) {
  const auto& principal = *request.principal;
  auto open =
      context.access.store().invitations(principal.agency, principal.household_key, context.access.clock().now());
  std::erase_if(open, [&](const auto& row) {
    const auto invited = access::role_named(row.account.role);
    return !invited || !access::may_invite(principal.role, *invited);
  });
  return open;
}

}  // namespace

Response post_invitation(const Context& context, const Request& request, const Parts&) {
  const auto document = json::parse(request.body);
  const Field body(document, "");
  access::Wish wish;
  wish.role = read_role(body["role"]);
  const auto& principal = *request.principal;
  if (!access::may_invite(principal.role, wish.role)) {
    throw Problem(ProblemCode::not_allowed, std::string("Signed in as ") + name_of(principal.role) + ": inviting a " +
                                                name_of(wish.role) + " is for others to do.");
  }
  wish.agency = read_agency(context, request, body);
  wish.label = body["label"].text(80);
  wish.invited_by = principal.account;
  if (access::is_phone(wish.role)) wish.household_key = read_household_key(context, request, body);
  if (wish.role == Role::guest) read_guest(context, body, wish);
  const auto invited = access::invite(context.access.store(), wish, context.access.clock().now());
  const auto link = access::invitation_link(context.access.public_address(), invited.code);
  auto response = json_response({{"invitation", invited.invitation},
                                 {"account", invited.account},
                                 {"link", link},
                                 {"code", invited.code},
                                 {"expires_at", json::rfc3339(invited.expires_at, nullptr)},
                                 {"qr", access::qr_rows(link)}},
                                201);
  response.set("Cache-Control", "no-store");
  return response;
}

Response get_invitations(const Context& context, const Request& request, const Parts&) {
  auto invitations = nlohmann::json::array();
  for (const auto& row : open_invitations(context, request)) invitations.push_back(invitation_document(row));
  return json_response({{"invitations", std::move(invitations)}});
}

/// One that the list shows.
Response delete_invitation(const Context& context, const Request& request, const Parts& parts) {
  const auto open = open_invitations(context, request);
  const bool listed = std::any_of(open.begin(), open.end(),
                                  [&](const auto& row) { return row.invitation.id == parts.at("invitation"); });
  if (!listed || !context.access.store().withdraw(parts.at("invitation"),
                                                  {request.principal->account, context.access.clock().now()})) {
    throw Problem(ProblemCode::invitation_used_or_over, "There is no such open invitation: it was used, or is over.");
  }
  Response response;
  response.status = 204;
  return response;
}

}  // namespace cellarer::api
