// SPDX-License-Identifier: MIT
#include "server/api/gate.hpp"

#include "server/access/access_service.hpp"
#include "server/access/cookie.hpp"
#include "server/access/guest_hours.hpp"
#include "server/household_key.hpp"
#include "server/json/field.hpp"
#include "server/json/texts.hpp"

namespace cellarer::api {

using access::Permission;
using access::Principal;
using access::Standing;

namespace {

/// A page of another site must not write through a phone's cookie. The cookie is SameSite=Strict; this holds where a
/// browser does not heed that, and against pages of the same site on another name or port (Fetch Metadata; RFC 6454).
void refuse_cross_site(const Request& request) {
  const auto site = header(request, "sec-fetch-site");
  bool crosses = false;
  if (site) {
    crosses = *site != "same-origin" && *site != "none";
  } else if (const auto origin = header(request, "origin")) {
    const auto authority = origin->find("://");
    crosses = authority == std::string::npos || origin->substr(authority + 3) != header(request, "host").value_or("");
  }
  if (!crosses) return;
  throw Problem(ProblemCode::cross_site, "This was sent by a page of another site. Open the service's own page.");
}

/// A form of another site can send other types without asking; JSON it cannot.
void require_json(const Request& request) {
  if (request.body.empty()) return;
  const auto type = header(request, "content-type").value_or("");
  const auto name = type.substr(0, type.find_first_of("; \t"));
  if (name == "application/json") return;
  throw Problem(ProblemCode::unsupported_media_type, "Send the body as application/json.");
}

std::string ended_because(const std::string& why) {
  if (why == "signed-out") return "Signed out here.";
  if (why == "by-phone") return "Another phone of the household signed this one out.";
  if (why == "by-agency") return "The agency signed this out.";
  if (why == "sealed-code") return "The household's sealed recovery code was used: it signs out all other phones.";
  if (why == "new-passkey") return "A new passkey was made for this account: it signs out what was signed in before.";
  if (why == "replaced") return "Another way in was used in the same browser, which ends the one before.";
  if (why == "erased") return "The household was erased.";
  return "The time for which this was let in is over.";
}

[[noreturn]] void not_signed_in(const Standing& standing) {
  if (standing.is != Standing::Is::ended) {
    throw Problem(ProblemCode::not_signed_in,
                  "Open the page and follow the invitation of a phone of the household, or sign in as staff.");
  }
  Problem problem(ProblemCode::not_signed_in,
                  ended_because(standing.ended_why) + " Ask for a new invitation to come in again.");
  problem.more["ended"] = {{"why", standing.ended_why}, {"at", json::rfc3339(standing.ended_at, nullptr)}};
  throw problem;
}

[[noreturn]] void not_allowed(const Principal& principal, Permission permission) {
  Problem problem(ProblemCode::not_allowed,
                  std::string("Signed in as ") + name_of(principal.role) +
                      ": this is for others to do. Ask a phone of the household, or the agency.");
  problem.more["needs"] = name_of(permission);
  throw problem;
}

[[noreturn]] void outside_hours(const Principal& principal) {
  throw Problem(ProblemCode::outside_hours, "This phone reads and records from " +
                                                json::clock_text(std::chrono::minutes(principal.hours->from_min)) +
                                                " to " +
                                                json::clock_text(std::chrono::minutes(principal.hours->to_min)) +
                                                ". The unit's own alarm comes first: act on it at once.");
}

}  // namespace

void count_attempt(const Context& context, const Request& request) {
  const auto wait_s = context.access.throttle().attempt(request.remote);
  if (!wait_s) return;
  Problem problem(ProblemCode::too_many_attempts, "Too many attempts came from here. Wait, then try once more.");
  problem.more["retry_after_s"] = *wait_s;
  throw problem;
}

void refuse_key(const Context& context, const Request& request, const Problem& why) {
  count_attempt(context, request);
  throw why;
}

void admit(const Context& context, Request& request, const Match& found) {
  if (request.method != "GET" && request.method != "HEAD") {
    refuse_cross_site(request);
    require_json(request);
  }
  const Permission needs = found.route->needs;
  const bool attempts = found.route->runs == Runs::sign_in;
  if (needs == Permission::anyone && !attempts) return;
  const auto token = access::session_token(header(request, "cookie").value_or(""));
  const Standing standing = token ? context.access.sessions().check(*token) : Standing{};
  if (standing.is == Standing::Is::live) {
    request.principal = standing.principal;
    request.rotation_due = standing.rotation_due;
  }
  if (attempts) count_attempt(context, request);
  if (needs == Permission::anyone) return;
  if (!request.principal) not_signed_in(standing);
  require(request, needs);
  const Principal& principal = *request.principal;
  if (standing.outside_hours && needs != Permission::signed_in) outside_hours(principal);
  const auto household = found.parts.find("household");
  if (household == found.parts.end() || !access::is_phone(principal.role)) return;
  // Another household's phone hears what a name that is nobody's would make it hear.
  if (household_key(principal.agency, household->second) != principal.household_key) {
    throw service::unknown_household(household->second);
  }
}

void forgive_attempt(const Context& context, const Request& request, const Match& found, int status) {
  const bool was_wrong = status == 401 || status == 410;
  if (found.route->runs == Runs::sign_in && !was_wrong) context.access.throttle().forgive(request.remote);
}

Parts parts_of(const Request& request, const Match& found) {
  Parts parts = found.parts;
  const auto household = parts.find("household");
  if (household != parts.end() && request.principal) {
    household->second = household_key(request.principal->agency, household->second);
  }
  return parts;
}

void require(const Request& request, Permission permission) {
  if (!access::may(request.principal->role, permission)) not_allowed(*request.principal, permission);
}

}  // namespace cellarer::api
