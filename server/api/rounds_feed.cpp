// SPDX-License-Identifier: MIT
// The rounds as a calendar that other programs read by a secret address. It names areas, dates and counts of stops,
// never a household. The key has 160 random bits behind its agency's name, is shown once, and is kept as a hash in the
// agency's journal: the newest entry holds, so a new address ends the one before. It stands in the query, which is
// never logged.
#include "server/api/rounds_feed.hpp"

#include "server/access/access_service.hpp"
#include "server/access/secrets.hpp"
#include "server/api/gate.hpp"
#include "server/calendar/calendar.hpp"
#include "server/household_key.hpp"
#include "server/json/field.hpp"
#include "server/service/coming_rounds.hpp"

namespace cellarer::api {

namespace {

constexpr const char* feed_kind = "rounds_feed";  ///< {"hash": base64url, or null: ended}
constexpr std::size_t key_bytes = 20;
constexpr std::chrono::hours refresh{4};

std::string hash_of(const std::string& key) { return access::base64url(access::sha256(key)); }

/// The newest entry about the address; none: there is none, or it was ended.
std::optional<store::StoredAgencyEntry> feed_of(const Context& context, const std::string& agency) {
  std::optional<store::StoredAgencyEntry> newest;
  const auto entries = context.households.journal().of(agency);
  for (const auto& entry : *entries) {
    if (entry.kind == feed_kind) newest = entry;
  }
  if (newest && nlohmann::json::parse(newest->body).at("hash").is_null()) newest.reset();
  return newest;
}

void keep(const Context& context, const Request& request, const nlohmann::json& hash) {
  context.households.journal().record({request.principal->agency, feed_kind, "", nlohmann::json{{"hash", hash}}.dump(),
                                       access::random_token(), request.principal->account});
}

/// Whose rounds that key opens.
std::string agency_behind(const Context& context, const Request& request) {
  const auto given = request.query.find("key");
  if (given == request.query.end())
    throw cellarer::json::Refused("missing", "?key", "is required: take the address whole, as it was made");
  const std::string& key = given->second;
  const auto agency = key.substr(0, key.find('.'));
  if (!is_agency_reference(agency) || !context.access.store().has_agency(agency))
    refuse_key(
        context, request,
        Problem(ProblemCode::not_found, "There is no calendar at this address: a new one was made, or it was ended."));
  const auto feed = feed_of(context, agency);
  if (!feed)
    refuse_key(
        context, request,
        Problem(ProblemCode::not_found, "There is no calendar at this address: a new one was made, or it was ended."));
  const auto hash = nlohmann::json::parse(feed->body).at("hash").get<std::string>();
  if (!access::same_secret(hash, hash_of(key)))
    refuse_key(
        context, request,
        Problem(ProblemCode::not_found, "There is no calendar at this address: a new one was made, or it was ended."));
  return agency;
}

/// The agency's own day where its calendar names a zone, else UTC's.
rounds::Date today_of(const service::AgencyRecord& agency, Instant now) {
  const auto& name = agency.calendar.zone_name;
  return stock::date_in(date::locate_zone(name.empty() ? "UTC" : name), now);
}

std::string words_of(const service::AgencyRecord& agency, const rounds::Round& round,
                     const service::RoundOnBook* book) {
  const auto state = agency.state_of(round.id);
  std::string words = "Area " + round.area + ". At most " + std::to_string(round.stops) + " stops. ";
  if (state == service::RoundState::open)
    return words + "To be planned at least " + std::to_string(round.lead_days) + " days before.";
  words += std::string("It is ") + service::name_of(state);
  return words + (book != nullptr ? ", with " + std::to_string(book->stops) + " stops." : ".");
}

calendar::Event event_of(const service::AgencyRecord& agency, const std::string& feed, const rounds::Round& round,
                         Instant now) {
  const auto* book = agency.round(round.id);
  const bool told = book != nullptr && !book->history.empty();
  calendar::Event event;
  event.uid = access::base64url(access::sha256(feed + "/" + round.id)).substr(0, 22) + "@rounds";
  event.sequence = told ? static_cast<int>(book->history.size()) : 0;
  event.stamped = told ? book->history.back().at : now;
  event.whole_day = date::local_days(std::chrono::sys_days(round.date).time_since_epoch());
  event.summary = "Round: " + round.area;
  event.description = words_of(agency, round, book);
  event.cancelled = agency.state_of(round.id) == service::RoundState::cancelled;
  return event;
}

Response get_rounds_feed(const Context& context, const Request& request, const Parts&) {
  nlohmann::json document{{"made_at", nullptr}, {"by", ""}};
  if (const auto feed = feed_of(context, request.principal->agency)) {
    document["made_at"] = cellarer::json::rfc3339(feed->recorded_at, nullptr);
    if (const auto account = context.access.store().account(feed->account)) document["by"] = account->label;
  }
  return json_response(document);
}

Response post_rounds_feed(const Context& context, const Request& request, const Parts&) {
  const auto key = request.principal->agency + "." + access::random_token(key_bytes);
  keep(context, request, hash_of(key));
  auto response = json_response({{"address", context.access.public_address() + "/api/v1/feeds/rounds.ics?key=" + key},
                                 {"text",
                                  "Whoever has this address reads the rounds. It is shown once, and a new one ends it. "
                                  "Calendars look again every "
                                  "few hours only."}},
                                201);
  response.set("Cache-Control", "no-store");
  return response;
}

Response delete_rounds_feed(const Context& context, const Request& request, const Parts&) {
  if (feed_of(context, request.principal->agency)) keep(context, request, nullptr);
  Response response;
  response.status = 204;
  return response;
}

Response get_rounds_calendar(const Context& context, const Request& request, const Parts&) {
  const auto name = agency_behind(context, request);
  const auto entries = context.households.journal().of(name);
  const auto agency = service::agency_record(*entries);
  const Instant now = context.households.clock().now();
  calendar::Calendar calendar;
  calendar.name = "Rounds";
  calendar.refresh = refresh;
  for (const auto& round : service::coming_rounds(agency, today_of(agency, now)).all)
    calendar.events.push_back(event_of(agency, name, round, now));
  Response response;
  response.content_type = calendar::media_type;
  response.body = std::make_shared<const std::string>(calendar::written(calendar));
  return response;
}

}  // namespace

nlohmann::json rounds_feed_schemas() {
  return nlohmann::json::parse(R"nlohmann::json({
  "RoundsFeed": {"type": "object", "required": ["made_at", "by"]},
  "RoundsFeedAddress": {"type": "object", "required": ["address", "text"], "description": "shown once; a new one ends the one before"},
  "RoundsCalendar": {"type": "string", "description": "text/calendar (RFC 5545)"}
})nlohmann::json");
}

std::vector<Route> rounds_feed_routes() {
  using enum ProblemCode;
  const auto needs = access::Permission::plan_rounds;
  std::vector<Route> all{
      {"GET", "/rounds-feed", "roundsFeed", "Whether the rounds are read as a calendar", needs, Runs::compute,
       get_rounds_feed, nullptr, nullptr, "RoundsFeed"},
      {"POST",
       "/rounds-feed",
       "makeRoundsFeed",
       "A new secret address of the rounds; the one before ends",
       needs,
       Runs::write,
       post_rounds_feed,
       nullptr,
       "Nothing",
       "RoundsFeedAddress",
       201,
       {},
       {},
       false},
      {"DELETE",
       "/rounds-feed",
       "endRoundsFeed",
       "Ends the secret address",
       needs,
       Runs::write,
       delete_rounds_feed,
       nullptr,
       nullptr,
       nullptr,
       204,
       {},
       {},
       false},
      {"GET",
       "/feeds/rounds.ics",
       "roundsCalendar",
       "The rounds as a calendar (RFC 5545), by its secret address",
       access::Permission::anyone,
       Runs::sign_in,
       get_rounds_calendar,
       nullptr,
       nullptr,
       "RoundsCalendar",
       200,
       {"key"},
       {not_found, too_many_attempts}},
  };
  return all;
}

}  // namespace cellarer::api
