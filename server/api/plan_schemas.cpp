// SPDX-License-Identifier: MIT
#include "server/api/plan_schemas.hpp"

namespace cellarer::api {

namespace {

constexpr const char* plans = R"json({
  "Sides": {"type": "array", "minItems": 1, "maxItems": 2, "uniqueItems": true, "items": {"$ref": "#/components/schemas/Side"}},
  "Note": {"type": "string", "minLength": 1, "maxLength": 60},
  "Growth": {"type": "object", "required": ["minutes_per_week", "up_to_hours"],
    "description": "every day's spans together are that much longer each week, until the day holds up_to_hours", "properties": {
    "minutes_per_week": {"type": "integer", "minimum": 1, "maximum": 1440},
    "up_to_hours": {"type": "number", "minimum": 0.01, "maximum": 24, "description": "not less than the spans have"}}},
  "Stay": {"type": "object", "required": ["from", "to"], "properties": {
    "from": {"$ref": "#/components/schemas/Time"}, "to": {"$ref": "#/components/schemas/Time"},
    "zone": {"type": "string", "maxLength": 60, "description": "IANA name; none: that of the household"},
    "changing_times": {"type": "array", "minItems": 1, "maxItems": 12, "items": {"$ref": "#/components/schemas/TimeOfDay"}},
    "who": {"$ref": "#/components/schemas/Label"}}},
  "PacedMore": {"type": "object", "required": ["sides", "from"],
    "anyOf": [{"required": ["hours_per_day"]}, {"required": ["amplitude"]}], "properties": {
    "sides": {"$ref": "#/components/schemas/Sides"}, "from": {"$ref": "#/components/schemas/Time"},
    "to": {"$ref": "#/components/schemas/Time"},
    "hours_per_day": {"type": "number", "minimum": 0.0833334, "maximum": 24, "description": "24: all day; never less than the settings say"},
    "amplitude": {"type": "number", "minimum": 0.001, "maximum": 1000, "description": "on the unit's own scale; never less than the settings say"},
    "why": {"$ref": "#/components/schemas/Note"},
    "who": {"$ref": "#/components/schemas/Label"}, "confirmed": {"$ref": "#/components/schemas/Confirmed"}}},
  "Visit": {"type": "object", "required": ["sides", "at"], "properties": {
    "sides": {"$ref": "#/components/schemas/Sides"}, "at": {"$ref": "#/components/schemas/Time"},
    "note": {"$ref": "#/components/schemas/Note"}, "who": {"$ref": "#/components/schemas/Label"}}},
  "Hospital": {"type": "object", "required": ["from"], "properties": {
    "from": {"$ref": "#/components/schemas/Time"}, "note": {"$ref": "#/components/schemas/Note"},
    "who": {"$ref": "#/components/schemas/Label"}, "confirmed": {"$ref": "#/components/schemas/Confirmed"}}},
  "FoundCells": {"type": "object", "required": ["are"], "properties": {
    "are": {"enum": ["as_before", "fresh", "dont_know"]}, "changed_at": {"$ref": "#/components/schemas/Time"},
    "profile": {"type": "string", "maxLength": 80}, "lot": {"type": "string", "maxLength": 60},
    "expires": {"$ref": "#/components/schemas/Month"}, "from_stock": {"type": "boolean", "default": false}}},
  "SinceHospital": {"enum": ["as_before", "changed", "dont_know"], "default": "dont_know"},
  "BackHome": {"type": "object", "required": ["at"], "description": "what is not answered is not known", "properties": {
    "at": {"$ref": "#/components/schemas/Time"},
    "cells": {"type": "object", "properties": {"left": {"$ref": "#/components/schemas/FoundCells"},
      "right": {"$ref": "#/components/schemas/FoundCells"}}},
    "settings": {"$ref": "#/components/schemas/SinceHospital"}, "unit": {"$ref": "#/components/schemas/SinceHospital"},
    "unit_used": {"enum": ["yes", "no", "dont_know"], "default": "dont_know", "description": "in hospital"},
    "who": {"$ref": "#/components/schemas/Label"}, "confirmed": {"$ref": "#/components/schemas/Confirmed"}}},
  "End": {"type": "object", "required": ["entry", "at"], "properties": {
    "entry": {"type": "integer", "minimum": 1}, "at": {"$ref": "#/components/schemas/Time"},
    "who": {"$ref": "#/components/schemas/Label"}, "confirmed": {"$ref": "#/components/schemas/Confirmed"}}},
  "TypedIn": {"type": "object", "anyOf": [{"required": ["settings"]}, {"required": ["cells"]}],
    "description": "settings as of now; cells as if fresh ones of that profile went in now", "properties": {
    "settings": {"type": "array", "maxItems": 2, "items": {"type": "object", "required": ["side", "rate_per_min", "amplitude"],
      "description": "as Settings, without from"}},
    "cells": {"type": "object", "properties": {"left": {"type": "string", "maxLength": 80}, "right": {"type": "string", "maxLength": 80}}}}},
  "SideBySide": {"type": "object", "required": ["household", "as_of", "statement", "as_recorded", "as_typed_in"], "properties": {
    "statement": {"type": "string"},
    "as_recorded": {"$ref": "#/components/schemas/Forecast"}, "as_typed_in": {"$ref": "#/components/schemas/Forecast"}}}
})json";

}  // namespace

nlohmann::json plan_schemas() { return nlohmann::json::parse(plans); }

}  // namespace cellarer::api
