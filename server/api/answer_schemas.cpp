// SPDX-License-Identifier: MIT
#include "server/api/answer_schemas.hpp"

namespace cellarer::api {

namespace {

constexpr const char* answers = R"json({
  "Document": {"type": "object"},
  "Health": {"type": "object", "required": ["alive"], "properties": {"alive": {"const": true}}},
  "Ready": {"type": "object", "required": ["ready"], "properties": {"ready": {"const": true},
    "warnings": {"type": "array", "items": {"type": "string"}, "description": "what whoever runs the service should see to"}}},
  "Problem": {"type": "object", "required": ["type", "title", "status"], "properties": {
    "type": {"type": "string", "description": "/problems/<name>; the name is stable"}, "title": {"type": "string"},
    "status": {"type": "integer"}, "detail": {"type": "string"},
    "errors": {"type": "array", "items": {"type": "object", "required": ["place", "code", "reason"], "properties": {
      "place": {"type": "string", "description": "JSON pointer into the body, or ?name of the address"},
      "code": {"type": "string"}, "reason": {"type": "string", "description": "says what would be right"}}}},
    "entry": {"type": "integer"}, "voided_by": {"type": "integer"}}},
  "CellProfiles": {"type": "object", "required": ["profiles"], "properties": {"profiles": {"type": "array", "items": {
    "type": "object", "required": ["id", "designation", "usable"], "properties": {
      "id": {"type": "string"}, "designation": {"type": "string"}, "usable": {"type": "boolean"}}}}}},
  "Stimulators": {"type": "object", "required": ["profiles"], "properties": {"profiles": {"type": "array", "items": {
    "type": "object", "required": ["id", "basis", "cells_in_series"]}}}},
  "Households": {"type": "object", "required": ["households", "next"], "properties": {
    "households": {"type": "array", "items": {"type": "object", "required": ["household", "area"]}},
    "next": {"type": ["string", "null"], "description": "cursor of the next page; null at the end"}}},
  "Household": {"type": "object", "required": ["household", "zone", "area", "changing_times", "units", "settings",
    "in_hospital", "stays", "cell_profiles", "items", "places", "lots", "as_of"]},
  "Export": {"type": "object", "required": ["household", "zone", "changing_times"],
    "description": "data/schema/household.schema.json"},
  "Forecast": {"type": "object", "required": ["household", "as_of", "sides", "stock", "cautions"],
    "description": "data/schema/forecast.schema.json"},
  "Audit": {"type": "object", "required": ["links", "next"], "properties": {
    "whole": {"type": "boolean"}, "first_break": {"type": ["string", "null"]}, "next": {"type": ["string", "null"]},
    "links": {"type": "array", "items": {"type": "object", "required": ["number", "erased", "content_hash", "hash", "at",
      "who", "action", "subject", "household"]}}}},
  "Erased": {"type": "object", "required": ["household", "entries", "phones", "links_left_as_hashes", "text"]},
  "LeftOut": {"type": "array", "items": {"type": "string"},
    "description": "homes of the agency whose records cannot be read, and that are in nothing here"},
  "StockLedger": {"type": "object", "required": ["as_of", "lines", "left_out"], "properties": {"left_out": {"$ref": "#/components/schemas/LeftOut"}, "lines": {"type": "array", "items": {
    "type": "object", "required": ["item", "lot", "received", "used", "discarded", "unaccounted", "in_homes",
      "left_with_erased"]}}}},
  "Chart": {"type": "object", "required": ["side", "points", "readings", "as_of", "disclaimer"]},
  "Entry": {"type": "object", "required": ["id", "kind", "at", "recorded_at", "who", "voided_by", "body", "text"]},
  "Entries": {"type": "object", "required": ["entries", "next"], "properties": {
    "entries": {"type": "array", "items": {"$ref": "#/components/schemas/Entry"}}, "next": {"type": ["string", "null"]}}},
  "Recorded": {"type": "object", "required": ["entry", "questions"], "properties": {
    "entry": {"$ref": "#/components/schemas/Entry"},
    "questions": {"type": "array", "items": {"type": "object", "required": ["code", "text"]}},
    "forecast": {"anyOf": [{"$ref": "#/components/schemas/Forecast"}, {"type": "null"}]},
    "household": {"anyOf": [{"$ref": "#/components/schemas/Household"}, {"type": "null"}]},
    "packing": {"type": ["object", "null"], "required": ["cells", "sets", "other", "odds_text"]}}}
})json";

}  // namespace

nlohmann::json answer_schemas() { return nlohmann::json::parse(answers); }

}  // namespace cellarer::api
