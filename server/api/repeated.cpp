// SPDX-License-Identifier: MIT
#include "server/api/repeated.hpp"

#include "server/access/access_service.hpp"
#include "server/access/cookie.hpp"
#include "server/api/gate.hpp"
#include "server/api/handlers.hpp"

namespace cellarer::api {

namespace {

/// What the gate goes by.
bool same_person(const access::Principal& one, const access::Principal& other) {
  return one.session == other.session && one.account == other.account && one.role == other.role &&
         one.agency == other.agency && one.household_key == other.household_key;
}

bool still_live(const Context& context, const std::string& token, const access::Principal& who) {
  const auto standing = context.access.sessions().check(token);
  return standing.is == access::Standing::Is::live && !standing.rotation_due && !standing.outside_hours &&
         same_person(*standing.principal, who);
}

}  // namespace

Repeated repeated(const Context& context, const Request& request, const Response& response) {
  const bool given = response.status == 200 || response.status == 304;
  if (!given || request.method != "GET" || !request.principal || request.rotation_due) return {};
  const auto found = match(request.method, request.path);
  if (found.route == nullptr || found.route->shortcut != kept_forecast) return {};
  const auto token = access::session_token(header(request, "cookie").value_or(""));
  if (!token) return {};
  const auto household = parts_of(request, found).at("household");
  const auto kept = context.forecasts.ready(household);
  if (!kept) return {};
  const bool of_it = response.body ? response.body == kept->forecast : has_version(request, kept->forecast_tag);
  if (!of_it) return {};
  const auto still_so = [context, household, who = *request.principal,
                         of = std::weak_ptr<const FinishedForecast>(kept)](const std::string& same_token) {
    try {
      if (!still_live(context, same_token, who)) return false;
      const auto now = context.forecasts.ready(household);
      return now != nullptr && now == of.lock();
    } catch (const std::exception&) {
      return false;  // answered anew, it is told what stands against it
    }
  };
  return {still_so, *token};
}

}  // namespace cellarer::api
