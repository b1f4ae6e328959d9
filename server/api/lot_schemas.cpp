// SPDX-License-Identifier: MIT
#include "server/api/lot_schemas.hpp"

namespace cellarer::api {

namespace {

constexpr const char* lots = R"json({
  "Csv": {"type": "string", "description": "text/csv (RFC 4180) with a header line"},
  "Recall": {"type": ["object", "null"], "required": ["entry", "at", "why", "by", "to_call", "called"]},
  "LotLine": {"type": "object", "required": ["item", "lot", "expires", "recalled", "written_as", "in_homes", "on_its_way", "did_not_come", "lost", "in_agency", "homes", "in_sides",
    "used_sets", "received", "discarded", "sentence"], "properties": {
    "item": {"type": "string"}, "lot": {"type": "string"}, "recalled": {"$ref": "#/components/schemas/Recall"},
    "written_as": {"type": "array", "items": {"type": "string"}, "description": "wrong numbers that were corrected to this one"}}},
  "Lots": {"type": "object", "required": ["as_of", "lots", "left_out"], "properties": {"left_out": {"$ref": "#/components/schemas/LeftOut"},
    "lots": {"type": "array", "items": {"$ref": "#/components/schemas/LotLine"}}}},
  "Lot": {"type": "object", "required": ["as_of", "disclaimer", "item", "lot", "asked_as", "written_as", "recalled", "totals", "places", "sides", "on_its_way", "did_not_come", "users", "being_made", "did", "left_out"],
    "properties": {"left_out": {"$ref": "#/components/schemas/LeftOut"},
    "being_made": {"type": "integer", "description": "sides of which the list is being made anew: phrase and change_by are null there, until it is"},
    "did_not_come": {"type": "array", "description": "to homes that were to get it, by their answer, and nobody has said where it is: with the carrier, or at a neighbour's",
      "items": {"type": "object", "required": ["household", "area", "stop", "round", "date", "quantity", "said_at"]}},
    "places": {"type": "array", "items": {"type": "object", "required": ["household", "area", "stop", "place", "quantity", "expires"]}},
    "on_its_way": {"type": "array", "description": "on a round that is loaded or has left, and nobody has said what came of it",
      "items": {"type": "object", "required": ["household", "area", "stop", "round", "date", "quantity"]}},
    "sides": {"type": "array", "items": {"type": "object", "required": ["household", "area", "stop", "side", "since", "change_by", "phrase"]}},
    "users": {"type": "array", "items": {"type": "object", "required": ["household", "area", "stop", "sets", "last_at"]}},
    "did": {"type": "object", "required": ["sets", "homes", "ratio", "sentence", "limit"],
      "description": "ratio: observed over expected life; null where its sets tell nothing"}}},
  "NewRecall": {"type": "object", "required": ["lot"], "properties": {
    "item": {"type": "string", "maxLength": 60, "default": "cells"}, "lot": {"type": "string", "maxLength": 60},
    "why": {"type": "string", "maxLength": 200}}},
  "RecallAnswer": {"type": "object", "required": ["entry", "item", "lot", "at", "sides", "homes", "sentence"]},
  "RecallCall": {"type": "object", "required": ["lot"], "properties": {
    "item": {"type": "string", "maxLength": 60, "default": "cells"}, "lot": {"type": "string", "maxLength": 60},
    "note": {"type": "string", "maxLength": 200}, "who": {"$ref": "#/components/schemas/Label"}}},
  "RecallCalls": {"type": "object", "required": ["as_of", "item", "lot", "recalled", "calls", "left_out"], "properties": {
    "left_out": {"$ref": "#/components/schemas/LeftOut"},
    "calls": {"type": "array", "items": {"type": "object",
      "required": ["household", "area", "stop", "sides", "quantity", "on_its_way", "did_not_come", "usable_left", "called_at", "called_by", "why_first"]}}}},
  "NewCorrection": {"type": "object", "required": ["from", "to"], "properties": {
    "item": {"type": "string", "maxLength": 60, "default": "cells"}, "from": {"type": "string", "maxLength": 60},
    "to": {"type": ["string", "null"], "maxLength": 60, "description": "null takes the correction back"}}},
  "CorrectionAnswer": {"type": "object", "required": ["entry", "item", "from", "to", "uses", "sentence"]},
  "Corrections": {"type": "object", "required": ["corrections"], "properties": {"corrections": {"type": "array", "items": {
    "type": "object", "required": ["entry", "item", "from", "to", "at", "by"]}}}}
})json";

}  // namespace

nlohmann::json lot_schemas() { return nlohmann::json::parse(lots); }

}  // namespace cellarer::api
