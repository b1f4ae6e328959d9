// SPDX-License-Identifier: MIT
// Reminders: what a household asks for, its calendar's secret address, its phones that are pushed to. They are not
// alarms (DEVELOPERS.md, 9.8).
#include "server/access/access_service.hpp"
#include "server/api/access_bodies.hpp"
#include "server/api/fact_handler.hpp"
#include "server/api/gate.hpp"
#include "server/api/handlers.hpp"
#include "server/api/phone_services.hpp"
#include "server/calendar/calendar.hpp"
#include "server/household_key.hpp"
#include "server/json/field.hpp"
#include "server/reminders/feed.hpp"
#include "server/reminders/watch.hpp"

namespace cellarer::api {

using cellarer::json::Field;
using cellarer::json::rfc3339;

namespace {

constexpr const char* purpose = "reminders";

nlohmann::json time(const std::optional<Instant>& at, Zone zone) {
  return at ? nlohmann::json(rfc3339(*at, zone)) : nlohmann::json(nullptr);
}

/// Messages go to phones, and this is one; staff have none.
void require_phone(const Request& request) {
  if (access::is_phone(request.principal->role)) return;
  throw Problem(ProblemCode::not_allowed, "Only a phone of the household is pushed to.");
}

nlohmann::json push_document(const Context& context, const Request& request, const std::string& household) {
  const auto& phone = *context.phone;
  const Zone zone = context.households.snapshot(household)->record.life.zone;
  nlohmann::json document{{"offered", !phone.push_key.empty()}, {"key", nullptr}, {"this_phone", nullptr}};
  if (!phone.push_key.empty()) document["key"] = phone.push_key;
  document["phones"] = nlohmann::json::array();
  for (const auto& one : phone.reminders.subscriptions(household)) {
    const bool is_this = one.account == request.principal->account;
    const auto account = context.access.store().account(one.account);
    document["phones"].push_back({{"label", account ? account->label : ""},
                                  {"part", one.part},
                                  {"last_confirmed_at", time(one.confirmed_at, zone)},
                                  {"this", is_this}});
    if (!is_this) continue;
    document["this_phone"] = {{"part", one.part},
                              {"since", rfc3339(one.created_at, zone)},
                              {"last_sent_at", time(one.sent_at, zone)},
                              {"last_confirmed_at", time(one.confirmed_at, zone)}};
  }
  return document;
}

calendar::Calendar calendar_of(const Context& context, const store::StoredFeed& feed, const std::string& language) {
  const auto snapshot = context.households.snapshot(feed.household);
  if (snapshot->record.closed_since) return reminders::closed_calendar();
  const auto forecast = nlohmann::json::parse(*context.forecasts.get(feed.household)->forecast);
  const auto page = context.access.public_address() + "/h/" + reference_of(feed.household);
  return reminders::feed_calendar(
      forecast, snapshot->record.reminders, feed.id, page, reminders::language_of(language),
      [&](const std::string& uid, Instant at) { return context.phone->reminders.sequence(feed.id, uid, at); });
}

}  // namespace

Response get_reminders(const Context& context, const Request& request, const Parts& parts) {
  const auto& household = parts.at("household");
  const auto snapshot = context.households.snapshot(household);
  const auto& record = snapshot->record;
  nlohmann::json calendar = nullptr;
  if (const auto feed = context.phone->reminders.feed_of(request.principal->agency, household, purpose)) {
    calendar = {{"since", rfc3339(feed->created_at, record.life.zone)},
                {"last_read_at", time(feed->read_at, record.life.zone)}};
  }
  return json_response({{"settings", service::reminder_settings_document(record.reminders)},
                        {"entry", record.reminders.entry},
                        {"closed_at", time(record.closed_since, record.life.zone)},
                        {"calendar", calendar},
                        {"push", push_document(context, request, household)}});
}

Response post_reminders(const Context& context, const Request& request, const Parts& parts) {
  return record_fact(context, request, parts, service::kind::reminders, [](const Context& with, const Field& body) {
    service::read_reminder_settings(body);
    return with.households.clock().now();
  });
}

Response post_calendar(const Context& context, const Request& request, const Parts& parts) {
  const auto& household = parts.at("household");
  context.households.last_entry(household);  // an unknown household is said first
  const auto& principal = *request.principal;
  const auto key = context.phone->feeds.make(principal.agency, household, purpose, principal.account);
  const auto address = context.access.public_address() + "/api/v1/feeds/reminders.ics?key=" + key;
  auto response =
      json_response({{"address", address}, {"webcal", "webcal" + address.substr(address.find("://"))}}, 201);
  response.set("Cache-Control", "no-store");
  return response;
}

Response delete_calendar(const Context& context, const Request& request, const Parts& parts) {
  const auto& household = parts.at("household");
  context.households.last_entry(household);
  context.phone->feeds.end(request.principal->agency, household, purpose);
  Response response;
  response.status = 204;
  return response;
}

/// By a calendar program, which cannot sign in.
Response get_reminders_feed(const Context& context, const Request& request, const Parts&) {
  const auto key = request.query.find("key");
  const auto feed = key == request.query.end() ? std::nullopt : context.phone->feeds.open(key->second, purpose);
  if (!feed)
    refuse_key(context, request,
               Problem(ProblemCode::unknown_feed, "This address is not in use, or no longer: ask for a new one."));
  // The page that showed the address put its language there; one without is of English words, as all once were.
  const auto language = request.query.find("language");
  const auto shown = calendar_of(context, *feed, language == request.query.end() ? "" : language->second);
  Response response;
  response.content_type = calendar::media_type;
  response.body = std::make_shared<const std::string>(calendar::written(shown));
  return response;
}

Response post_push(const Context& context, const Request& request, const Parts& parts) {
  require_phone(request);
  const auto& household = parts.at("household");
  const auto document = cellarer::json::parse(request.body);
  const Field body(document, "");
  static_cast<void>(body["endpoint"]);  // a body of another form is said first
  const auto& phone = *context.phone;
  if (phone.push_key.empty()) throw Problem(ProblemCode::not_offered, "This service sends nothing to phones.");
  const auto wish = read_push_wish(body, phone.local_service);
  phone.reminders.put_subscription({request.principal->account, household, wish.endpoint, wish.keys.public_key,
                                    wish.keys.auth_secret, wish.part, context.households.clock().now()});
  phone.go_round();
  return json_response(push_document(context, request, household), 201);
}

Response delete_push(const Context& context, const Request& request, const Parts&) {
  require_phone(request);
  context.phone->reminders.end_subscription(request.principal->account);
  Response response;
  response.status = 204;
  return response;
}

Response post_push_trial(const Context& context, const Request& request, const Parts& parts) {
  require_phone(request);
  const auto& phone = *context.phone;
  if (!phone.reminders.subscription(request.principal->account))
    throw Problem(ProblemCode::not_offered, "This phone is not pushed to: switch that on first.");
  reminders::queue_trial(phone.reminders, request.principal->account, reference_of(parts.at("household")),
                         context.households.clock().now());
  phone.go_round();
  return json_response({{"queued", true}}, 202);
}

Response post_push_confirmed(const Context& context, const Request& request, const Parts&) {
  require_phone(request);
  const auto document = cellarer::json::parse(request.body);
  Field(document, "")["reminder"].text(40);
  context.phone->reminders.confirmed(request.principal->account, context.households.clock().now());
  Response response;
  response.status = 204;
  return response;
}

}  // namespace cellarer::api
