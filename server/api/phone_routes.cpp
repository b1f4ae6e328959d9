// SPDX-License-Identifier: MIT
#include "server/api/phone_routes.hpp"

#include "server/api/handlers.hpp"

namespace cellarer::api {

namespace {

using enum ProblemCode;
using access::Permission;
using enum Permission;

/// What is read otherwise than as JSON.
Route text(const char* path, const char* name, const char* summary, Permission needs, Runs runs, Handler handler,
           const char* media_type, std::vector<ProblemCode> problems) {
  Route route{"GET", path, name, summary, needs, runs, handler, nullptr, nullptr, "Text", 200, {}, std::move(problems)};
  route.media_type = media_type;
  return route;
}

Route asks(const char* path, const char* name, const char* summary, Handler handler, const char* takes,
           const char* gives, int success, std::vector<ProblemCode> problems = {}) {
  problems.push_back(unknown_household);
  return {"POST",  path,  name,  summary, record_plans, Runs::write,         handler,
          nullptr, takes, gives, success, {},           std::move(problems), false};
}

Route ends(const char* path, const char* name, const char* summary, Handler handler) {
  return {"DELETE", path,    name,    summary, record_plans, Runs::write,         handler,
          nullptr,  nullptr, nullptr, 204,     {},           {unknown_household}, false};
}

constexpr const char* schemas = R"json({
  "Text": {"type": "string"},
  "NewHelp": {"type": "object", "properties": {
    "number": {"type": ["string", "null"], "maxLength": 40}, "label": {"type": ["string", "null"], "maxLength": 80},
    "steps": {"type": "array", "maxItems": 8, "items": {"type": "object", "required": ["words"], "properties": {
      "words": {"type": "string", "minLength": 1, "maxLength": 200}, "more": {"type": "string", "maxLength": 400}}}},
    "approved_by": {"type": ["string", "null"], "maxLength": 60, "description": "a role, never a name"},
    "approved_on": {"type": ["string", "null"], "format": "date"},
    "follows": {"type": "integer", "minimum": 0, "description": "the entry that was shown when this was written"}}},
  "AgencyHelp": {"type": "object", "required": ["help", "entry", "recorded_at"], "properties": {
    "help": {"anyOf": [{"type": "null"}, {"type": "object", "required": ["number", "label", "steps", "approved_on", "approved_by"]}]},
    "entry": {"type": "integer"}, "recorded_at": {"type": ["string", "null"]}}},
  "PushPart": {"enum": ["first", "second"], "description": "of the first or of the second caregiver"},
  "Reminders": {"type": "object", "required": ["what", "words"], "properties": {
    "what": {"type": "array", "maxItems": 2, "uniqueItems": true, "items": {"enum": ["changes", "orders"]}},
    "at": {"anyOf": [{"$ref": "#/components/schemas/TimeOfDay"}, {"type": "null"}],
      "description": "on the day of the change; null: four hours before the changing time"},
    "quiet": {"anyOf": [{"type": "null"}, {"type": "object", "required": ["from", "to"], "properties": {
      "from": {"$ref": "#/components/schemas/TimeOfDay"}, "to": {"$ref": "#/components/schemas/TimeOfDay"}}}],
      "description": "never silences what is to be done before tonight"},
    "words": {"enum": ["neutral", "plain"], "description": "plain: names the side, on a lock screen too"},
    "second_after_min": {"anyOf": [{"type": "integer", "minimum": 10, "maximum": 720}, {"type": "null"}],
      "description": "unanswered for so long: one to the second caregiver"}}},
  "PushState": {"type": "object", "required": ["offered", "key", "this_phone", "phones"], "properties": {
    "offered": {"type": "boolean"}, "key": {"type": ["string", "null"], "description": "applicationServerKey"},
    "this_phone": {"anyOf": [{"type": "null"}, {"type": "object", "required": ["part", "since", "last_sent_at",
      "last_confirmed_at"]}]},
    "phones": {"type": "array", "items": {"type": "object", "required": ["label", "part", "last_confirmed_at", "this"]}}}},
  "RemindersState": {"type": "object", "required": ["settings", "entry", "closed_at", "calendar", "push"], "properties": {
    "settings": {"$ref": "#/components/schemas/Reminders"},
    "entry": {"type": "integer", "description": "in which they were set; 0: nobody has"},
    "closed_at": {"type": ["string", "null"], "description": "since then the agency has closed the home: nothing is reminded"},
    "calendar": {"anyOf": [{"type": "null"}, {"type": "object", "required": ["since", "last_read_at"]}]},
    "push": {"$ref": "#/components/schemas/PushState"}}},
  "CalendarAddress": {"type": "object", "required": ["address", "webcal"], "properties": {
    "address": {"type": "string", "description": "shown this once: whoever has it reads the calendar"},
    "webcal": {"type": "string"}}},
  "NewSubscription": {"type": "object", "required": ["endpoint", "keys", "part"], "properties": {
    "endpoint": {"type": "string", "maxLength": 1000, "description": "https"},
    "keys": {"type": "object", "required": ["p256dh", "auth"], "properties": {
      "p256dh": {"type": "string", "maxLength": 200}, "auth": {"type": "string", "maxLength": 200}}},
    "part": {"$ref": "#/components/schemas/PushPart"}}},
  "Queued": {"type": "object", "required": ["queued"], "properties": {"queued": {"const": true}}},
  "Confirmation": {"type": "object", "required": ["reminder"], "properties": {"reminder": {"type": "string", "maxLength": 40}}}
})json";

}  // namespace

std::vector<Route> phone_routes() {
  return {
      {"GET", "/agency/help", "help", "The number to call and the words for when something is wrong, approved or not",
       enter_help, Runs::compute, get_help, nullptr, nullptr, "AgencyHelp"},
      {"POST",
       "/agency/help",
       "enterHelp",
       "Enters them anew. Words are shown to households once somebody answers for them, by role and day",
       enter_help,
       Runs::write,
       post_help,
       nullptr,
       "NewHelp",
       "AgencyHelp",
       201,
       {},
       {outdated}},
      text("/households/{household}/events", "events", "The number of the newest entry, at once and after each",
           read_household, Runs::io, get_events, "text/event-stream", {unknown_household}),
      {"GET",
       "/households/{household}/reminders",
       "reminders",
       "What the household is reminded of, and how",
       read_household,
       Runs::compute,
       get_reminders,
       nullptr,
       nullptr,
       "RemindersState",
       200,
       {},
       {unknown_household}},
      {"POST",
       "/households/{household}/reminders",
       "recordReminders",
       "What the household wants to be reminded of. Reminders are not alarms and may not arrive",
       record_plans,
       Runs::write,
       post_reminders,
       nullptr,
       "Reminders",
       "Recorded",
       201,
       {},
       {unknown_household}},
      asks("/households/{household}/calendar", "makeCalendar",
           "A new secret address of the household's calendar; the one before ends", post_calendar, "Nothing",
           "CalendarAddress", 201),
      ends("/households/{household}/calendar", "endCalendar", "Ends the calendar's secret address", delete_calendar),
      text(
          "/feeds/reminders.ics", "remindersFeed",
          "A household's reminders as RFC 5545 has them, by the secret address (?key=, &language=es for Spanish words)",
          anyone, Runs::compute, get_reminders_feed, "text/calendar", {unknown_feed, too_many_attempts}),
      asks("/households/{household}/push", "subscribe", "Messages for this phone, in the place of those before",
           post_push, "NewSubscription", "PushState", 201, {not_offered}),
      ends("/households/{household}/push", "unsubscribe", "No more messages for this phone", delete_push),
      asks("/households/{household}/push/trial", "tryPush", "One message to this phone, now", post_push_trial,
           "Nothing", "Queued", 202, {not_offered}),
      asks("/households/{household}/push/confirmed", "confirmPush", "This phone has shown a message",
           post_push_confirmed, "Confirmation", nullptr, 204),
  };
}

nlohmann::json phone_schemas() { return nlohmann::json::parse(schemas); }

}  // namespace cellarer::api
