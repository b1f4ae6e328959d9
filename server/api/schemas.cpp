// SPDX-License-Identifier: MIT
// What the API takes. The readers of server/service/facts.hpp decide; these tell the same to a machine, and a
// test sends what they allow and forbid.
#include "server/api/schemas.hpp"

#include "server/api/access_schemas.hpp"
#include "server/api/answer_schemas.hpp"
#include "server/api/cost_handlers.hpp"
#include "server/api/desk_schemas.hpp"
#include "server/api/lot_schemas.hpp"
#include "server/api/phone_routes.hpp"
#include "server/api/plan_schemas.hpp"
#include "server/api/review_schemas.hpp"
#include "server/api/rounds_feed.hpp"
#include "server/api/table_schemas.hpp"

namespace cellarer::api {

namespace {

constexpr const char* bodies = R"nlohmann::json({
  "Time": {"type": "string", "format": "date-time", "description": "RFC 3339 with offset, 2000 to 2099"},
  "Month": {"type": "string", "pattern": "^[0-9]{4}-(0[1-9]|1[0-2])$"},
  "TimeOfDay": {"type": "string", "pattern": "^([01][0-9]|2[0-3]):[0-5][0-9]$|^24:00$"},
  "Side": {"enum": ["left", "right"]},
  "Label": {"type": "string", "minLength": 1, "maxLength": 80, "description": "who recorded, as staff say it; on a phone its own label holds"},
  "Confirmed": {"type": "array", "items": {"enum": ["future-date"]}},
  "NewHousehold": {"type": "object", "required": ["household", "zone", "changing_times"], "properties": {
    "household": {"type": "string", "pattern": "^[A-Za-z0-9_-][A-Za-z0-9._-]{0,63}$"},
    "zone": {"type": "string", "description": "IANA name, such as Europe/Oslo"},
    "area": {"type": "string", "maxLength": 60},
    "stop": {"type": "string", "maxLength": 60, "description": "the door, where two households share one"},
    "changing_times": {"type": "array", "minItems": 1, "maxItems": 12, "items": {"$ref": "#/components/schemas/TimeOfDay"}},
    "items": {"type": "array", "maxItems": 100, "items": {"type": "object", "required": ["item"], "properties": {
      "item": {"type": "string", "maxLength": 60}, "pack_size": {"type": "integer", "minimum": 1, "maximum": 10000},
      "lead_days": {"type": "number", "minimum": 0, "maximum": 365}, "every_days": {"type": "number", "minimum": 1, "maximum": 3650},
      "per_cell_change": {"type": "number", "minimum": 0, "maximum": 100}}}}}},
  "Unit": {"type": "object", "required": ["serial", "stimulator", "from"], "properties": {
    "serial": {"type": "string", "maxLength": 60}, "stimulator": {"type": "string", "maxLength": 80},
    "from": {"$ref": "#/components/schemas/Time"}, "spare": {"type": "boolean", "default": false},
    "who": {"$ref": "#/components/schemas/Label"}, "confirmed": {"$ref": "#/components/schemas/Confirmed"}}},
  "Settings": {"type": "object", "required": ["from", "side", "rate_per_min", "amplitude"],
    "oneOf": [{"required": ["inspiratory_fraction"]}, {"required": ["inspiratory_time_s"]}], "properties": {
    "from": {"$ref": "#/components/schemas/Time"}, "side": {"$ref": "#/components/schemas/Side"},
    "rate_per_min": {"type": "number", "minimum": 1, "maximum": 60},
    "inspiratory_fraction": {"type": "number", "minimum": 0.05, "maximum": 0.95},
    "inspiratory_time_s": {"type": "number", "exclusiveMinimum": 0, "maximum": 60, "description": "shorter than the breath"},
    "amplitude": {"type": "number", "minimum": 0.001, "maximum": 1000, "description": "on the unit's own scale"},
    "paced": {"type": "array", "maxItems": 100, "items": {"type": "object", "required": ["days", "from", "to"], "properties": {
      "days": {"type": "array", "minItems": 1, "maxItems": 7, "items": {"enum": ["mon", "tue", "wed", "thu", "fri", "sat", "sun"]}},
      "from": {"$ref": "#/components/schemas/TimeOfDay"}, "to": {"$ref": "#/components/schemas/TimeOfDay"}}}},
    "growth": {"$ref": "#/components/schemas/Growth"},
    "who": {"$ref": "#/components/schemas/Label"}, "confirmed": {"$ref": "#/components/schemas/Confirmed"}}},
  "CellSet": {"type": "object", "properties": {
    "profile": {"type": "string", "maxLength": 80}, "lot": {"type": "string", "maxLength": 60},
    "expires": {"$ref": "#/components/schemas/Month"}, "set": {"type": "string", "maxLength": 80},
    "age": {"enum": ["fresh", "part_used", "unknown"], "default": "fresh"}, "place": {"type": "string", "maxLength": 60}}},
  "CellChange": {"type": "object", "required": ["at", "side"], "properties": {
    "at": {"$ref": "#/components/schemas/Time"}, "side": {"$ref": "#/components/schemas/Side"},
    "reason": {"enum": ["planned", "warning", "ran_out", "fault", "unknown"], "default": "unknown"},
    "cells": {"$ref": "#/components/schemas/CellSet"}, "from_stock": {"type": "boolean", "default": true},
    "who": {"$ref": "#/components/schemas/Label"}, "confirmed": {"$ref": "#/components/schemas/Confirmed"}}},
  "Reading": {"type": "object", "required": ["at", "side"],
    "oneOf": [{"required": ["percent"]}, {"required": ["step", "of"]}, {"required": ["set_V"]}, {"required": ["cell_V"]},
              {"required": ["warning"]}, {"required": ["stopped"]}], "properties": {
    "at": {"$ref": "#/components/schemas/Time"}, "side": {"$ref": "#/components/schemas/Side"},
    "condition": {"enum": ["pacing", "idle", "just_on", "off"], "default": "pacing"},
    "percent": {"type": "number", "minimum": 0, "maximum": 100},
    "step": {"type": "integer", "minimum": 0, "description": "at most `of`"}, "of": {"type": "integer", "minimum": 1, "maximum": 100},
    "set_V": {"type": "number", "minimum": 0, "maximum": 20},
    "cell_V": {"type": "array", "minItems": 1, "maxItems": 8, "items": {"type": "number", "minimum": -5, "maximum": 5}},
    "warning": {"const": true}, "stopped": {"const": true},
    "who": {"$ref": "#/components/schemas/Label"}, "confirmed": {"$ref": "#/components/schemas/Confirmed"}}},
  "Paced": {"type": "object", "required": ["side", "from", "hours_per_day"], "properties": {
    "side": {"$ref": "#/components/schemas/Side"}, "from": {"$ref": "#/components/schemas/Time"},
    "to": {"$ref": "#/components/schemas/Time"}, "hours_per_day": {"type": "number", "minimum": 0, "maximum": 24},
    "who": {"$ref": "#/components/schemas/Label"}, "confirmed": {"$ref": "#/components/schemas/Confirmed"}}},
  "SwitchedOff": {"type": "object", "required": ["side", "from"], "properties": {
    "side": {"$ref": "#/components/schemas/Side"}, "from": {"$ref": "#/components/schemas/Time"},
    "to": {"$ref": "#/components/schemas/Time"},
    "who": {"$ref": "#/components/schemas/Label"}, "confirmed": {"$ref": "#/components/schemas/Confirmed"}}},
  "StockEvent": {"type": "object", "required": ["at", "item", "quantity"], "properties": {
    "at": {"$ref": "#/components/schemas/Time"}, "item": {"type": "string", "maxLength": 60},
    "lot": {"type": "string", "maxLength": 60},
    "quantity": {"type": "integer", "minimum": 0, "maximum": 100000, "description": "pieces; at least 1 where something came or went"},
    "expires": {"$ref": "#/components/schemas/Month"}, "place": {"type": "string", "maxLength": 60, "default": "home"},
    "who": {"$ref": "#/components/schemas/Label"}, "confirmed": {"$ref": "#/components/schemas/Confirmed"}}},
  "Void": {"type": "object", "required": ["entry"], "properties": {
    "entry": {"type": "integer", "minimum": 1}, "why": {"type": "string", "maxLength": 500},
    "who": {"$ref": "#/components/schemas/Label"}}},
  "Answer": {"type": "object", "required": ["entry", "answer"], "properties": {
    "entry": {"type": "integer", "minimum": 1}, "answer": {"enum": ["same", "different", "still"]},
    "who": {"$ref": "#/components/schemas/Label"}}}
})nlohmann::json";

}  // namespace

const nlohmann::json& component_schemas() {
  static const nlohmann::json all = [] {
    nlohmann::json schemas = nlohmann::json::parse(bodies);
    schemas.update(answer_schemas());
    schemas.update(plan_schemas());
    schemas.update(access_schemas());
    schemas.update(desk_schemas());
    schemas.update(review_schemas());
    schemas.update(lot_schemas());
    schemas.update(table_schemas());
    schemas.update(cost_schemas());
    schemas.update(rounds_feed_schemas());
    schemas.update(phone_schemas());
    return schemas;
  }();
  return all;
}

}  // namespace cellarer::api
