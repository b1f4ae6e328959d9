// SPDX-License-Identifier: MIT
#include "server/api/desk_schemas.hpp"

namespace cellarer::api {

namespace {

constexpr const char* desk = R"json({
  "Date": {"type": "string", "format": "date", "description": "2000 to 2099"},
  "DeskRow": {"type": "object", "required": ["row"]},
  "Board": {"type": "object", "required": ["as_of", "disclaimer", "computed", "of", "version", "next", "rows"], "properties": {
    "computed": {"type": "integer"}, "of": {"type": "integer"}, "next": {"type": ["string", "null"]},
    "rows": {"type": "array", "items": {"type": "object", "required": ["household", "area", "stop", "left", "right", "items",
      "deliver_by", "days_of_stock", "last_count_at", "last_record_at", "asked_at", "next_round", "reaches_next_round",
      "messages", "deliveries", "cannot_be_served", "closed_at", "attention", "computed_at"]}}}},
  "DeskHousehold": {"type": "object", "required": ["disclaimer", "row", "units", "stock", "comes_back", "decisions"]},
  "Asked": {"type": "object", "required": ["entry", "asked_at"]},
  "StopPlace": {"type": "object", "required": ["area"], "properties": {
    "area": {"type": "string", "minLength": 1, "maxLength": 60},
    "stop": {"type": ["string", "null"], "maxLength": 60, "description": "the agency's code of a door, never an address"},
    "storage": {"type": "array", "maxItems": 50, "items": {"type": "object", "required": ["item", "pieces"], "properties": {
      "item": {"type": "string", "maxLength": 60}, "pieces": {"type": "integer", "minimum": 1, "maximum": 100000}}}}}},
  "Closed": {"type": "object", "required": ["closed_at", "stops_ended", "comes_back"], "properties": {
    "stops_ended": {"type": "array", "items": {"type": "object", "required": ["stop", "round", "date"], "properties": {
      "stop": {"type": "string"}, "round": {"type": "string"}, "date": {"$ref": "#/components/schemas/Date"}}}},
    "comes_back": {"type": "array", "items": {"type": "object", "required": ["what", "pieces"]}}}},
  "Messages": {"type": "object", "required": ["messages", "deliveries", "closed_at"], "properties": {
    "messages": {"type": "array", "items": {"type": "object", "required": ["entry", "about", "at", "note", "seen_at", "text"]}},
    "deliveries": {"type": "array", "items": {"type": "object", "required": ["round", "date", "state", "lines", "text"]}}}},
  "Message": {"type": "object", "required": ["about"], "properties": {
    "about": {"enum": ["running_short", "unit_trouble"]}, "note": {"type": "string", "minLength": 1, "maxLength": 500},
    "at": {"$ref": "#/components/schemas/Time"}}},
  "MessageSeen": {"type": "object", "required": ["entry", "seen_at"]},
  "DeliveryAnswer": {"type": "object", "required": ["round", "answer"], "properties": {
    "round": {"type": "string", "maxLength": 200}, "answer": {"enum": ["received", "not_received"]},
    "lines": {"type": "array", "maxItems": 50, "description": "what came, where it was not as planned", "items": {
      "type": "object", "required": ["item", "pieces"], "properties": {"item": {"type": "string", "maxLength": 60},
        "lot": {"type": "string", "maxLength": 60}, "pieces": {"type": "integer", "minimum": 0, "maximum": 100000},
        "expires": {"$ref": "#/components/schemas/Month"}}}}}},
  "DeliveryAnswered": {"type": "object", "required": ["entry", "booked", "delivery"], "properties": {
    "booked": {"type": "array", "items": {"type": "integer"}, "description": "entries by which stock rose: they go with the answer when it is taken back"}}},
  "MissingLots": {"type": "array", "items": {"type": "object", "required": ["item", "lot", "pieces", "expires"], "properties": {
    "item": {"type": "string"}, "lot": {"type": ["string", "null"]}, "pieces": {"type": "integer"}, "expires": {"type": ["string", "null"]}}}},
  "DeliveryWhereabouts": {"type": "object", "required": ["round", "packs"], "properties": {
    "round": {"type": "string", "maxLength": 200},
    "packs": {"enum": ["not_known", "came_back", "lost"], "description": "not_known takes back what was said; of what came back whole packs are in the store again, and pieces of others are written off"}}},
  "DeliverySettled": {"type": "object", "required": ["round", "packs", "settled", "did_not_come", "sentence"], "properties": {
    "settled": {"$ref": "#/components/schemas/MissingLots"}, "did_not_come": {"$ref": "#/components/schemas/MissingLots"}}},
  "RoundRule": {"type": "object", "required": ["name", "area", "stops"], "description": "goes on weekdays, on dates, or both", "properties": {
    "name": {"type": "string", "minLength": 1, "maxLength": 60}, "area": {"type": "string", "minLength": 1, "maxLength": 60},
    "weekdays": {"type": "array", "maxItems": 7, "items": {"enum": ["sun", "mon", "tue", "wed", "thu", "fri", "sat"]}},
    "dates": {"type": "array", "maxItems": 400, "items": {"$ref": "#/components/schemas/Date"}},
    "not_on": {"type": "array", "maxItems": 400, "items": {"$ref": "#/components/schemas/Date"}},
    "stops": {"type": "integer", "minimum": 1, "maximum": 1000, "description": "at most so many"},
    "lead_days": {"type": "integer", "minimum": 0, "maximum": 60, "default": 0}}},
  "NewCalendar": {"type": "object", "required": ["follows", "rules"], "properties": {
    "follows": {"type": "integer", "minimum": 0, "description": "the number of the calendar that it replaces; 0 for the first"},
    "horizon_days": {"type": "integer", "minimum": 7, "maximum": 180, "default": 56},
    "cover_days": {"type": "integer", "minimum": 7, "maximum": 180, "default": 35,
      "description": "a home keeps at most what it may use in so many days, where its storage is not recorded"},
    "zone": {"type": "string", "maxLength": 60},
    "rules": {"type": "array", "maxItems": 500, "items": {"$ref": "#/components/schemas/RoundRule"}},
    "items": {"type": "array", "maxItems": 100, "items": {"type": "object", "required": ["item", "pieces_per_pack"], "properties": {
      "item": {"type": "string", "minLength": 1, "maxLength": 60}, "pieces_per_pack": {"type": "integer", "minimum": 1, "maximum": 10000},
      "pieces_per_set": {"type": "integer", "minimum": 1, "maximum": 100, "default": 1}}}}}},
  "Calendar": {"type": "object", "required": ["number", "horizon_days", "rules", "items", "areas", "rounds"]},
  "AgencyStock": {"type": "object", "required": ["lots", "looked_at"]},
  "AgencyStockEvent": {"type": "object", "required": ["what", "item", "packs"], "properties": {
    "what": {"enum": ["received", "counted", "discarded", "ordered", "cancelled"], "description": "cancelled takes from what is on order of that lot"}, "item": {"type": "string", "minLength": 1, "maxLength": 60},
    "lot": {"type": "string", "minLength": 1, "maxLength": 60}, "packs": {"type": "integer", "minimum": 0, "maximum": 1000000},
    "expires": {"$ref": "#/components/schemas/Month"}, "arrives": {"$ref": "#/components/schemas/Date"}}},
  "Plan": {"type": "object", "required": ["plan", "as_of", "figures", "rounds", "moved", "left", "not_planned"]},
  "Remedies": {"type": "object", "required": ["stop", "remedies"]},
  "StopChange": {"type": "object", "required": ["plan", "stop"], "properties": {
    "plan": {"type": "string", "maxLength": 80}, "stop": {"type": "string", "maxLength": 80},
    "from": {"type": "string", "maxLength": 200}, "to": {"type": "string", "maxLength": 200},
    "round": {"type": "string", "maxLength": 200}, "clear": {"type": "boolean", "description": "takes back what was decided of `round`"}}},
  "Consequence": {"type": "object", "required": ["falls", "no_longer", "risk_more", "over_the_limit", "leaves_too_soon", "replanned", "text"]},
  "Decided": {"type": "object", "required": ["plan"]},
  "Confirm": {"type": "object", "required": ["plan", "rounds"], "properties": {
    "plan": {"type": "string", "maxLength": 80},
    "rounds": {"type": "array", "minItems": 1, "maxItems": 400, "items": {"type": "string", "maxLength": 200}}}},
  "ConfirmedRounds": {"type": "object", "required": ["confirmed", "withdrawn"]},
  "RoundStep": {"type": "object", "required": ["state", "follows"], "properties": {
    "state": {"enum": ["loaded", "left", "done", "cancelled"]},
    "follows": {"type": "integer", "minimum": 0, "description": "the number of the round as it was seen"}}},
  "Round": {"type": "object", "required": ["round", "area", "date", "state", "stops_at_most", "number", "picking", "stops", "history"], "properties": {
    "stops": {"type": "array", "items": {"type": "object", "required": ["stop", "lines"], "properties": {"lines": {"type": "array", "items": {
      "type": "object", "required": ["household", "item", "packs", "pieces", "lots", "state", "answered_at", "did_not_come", "packs_are"], "properties": {
        "did_not_come": {"type": "integer", "description": "pieces of it, by the home's answer, of which nobody has said where they are"},
        "packs_are": {"enum": ["not_known", "came_back", "lost"], "description": "what was said of those that did not come"}}}}}}}}}
})json";

}  // namespace

nlohmann::json desk_schemas() { return nlohmann::json::parse(desk); }

}  // namespace cellarer::api
