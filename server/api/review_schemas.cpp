// SPDX-License-Identifier: MIT
#include "server/api/review_schemas.hpp"

namespace cellarer::api {

namespace {

constexpr const char* bench = R"json({
  "Table": {"type": "string", "description": "text/csv; text that a spreadsheet would take for a formula begins with an apostrophe"},
  "SideHistory": {"type": "object", "required": ["household", "side", "zone", "as_of", "fresh", "sets", "charts",
    "left_against_right", "settings_changes", "checks", "findings"], "properties": {
    "fresh": {"type": "boolean", "description": "false: newer entries of the agency are being worked in"},
    "sets": {"type": "array", "items": {"type": "object", "required": ["number", "from", "to", "unit", "stimulator",
      "cell_type", "lot", "ended", "ended_text", "settings", "settings_text", "settings_changed", "expected_mAh", "expected_mA", "observed",
      "chart", "marks", "text"]}},
    "findings": {"type": "array", "items": {"$ref": "#/components/schemas/Finding"}}}},
  "ReviewedAt": {"type": ["string", "null"], "format": "date-time", "description": "null: the first review since the service started is being made; nothing is known yet"},
  "Units": {"type": "object", "required": ["as_of", "fresh", "units", "left_out"], "properties": {"as_of": {"$ref": "#/components/schemas/ReviewedAt"}, "left_out": {"$ref": "#/components/schemas/LeftOut"}, "units": {"type": "array",
    "items": {"type": "object", "required": ["serial", "stimulator", "place", "homes", "sets", "faults", "more_percent",
      "low_percent", "high_percent", "draws_too_much", "measured", "text"]}}}},
  "UnitHistory": {"type": "object", "required": ["as_of", "fresh", "serial", "place", "places", "faults_list",
    "bench_values", "homes_list", "sets_list", "profile", "findings", "text"]},
  "LotsInUse": {"type": "object", "required": ["as_of", "fresh", "lots", "left_out"], "properties": {"as_of": {"$ref": "#/components/schemas/ReviewedAt"}, "left_out": {"$ref": "#/components/schemas/LeftOut"}, "lots": {"type": "array",
    "items": {"type": "object", "required": ["lot", "cell_type", "sets", "households", "homes", "more_percent",
      "low_percent", "high_percent", "short", "text"]}}}},
  "Finding": {"type": "object", "required": ["id", "kind", "title", "household", "scope", "subject", "raised_at", "from",
    "ended_at", "more_percent", "low_percent", "high_percent", "probability",
    "probability_text", "causes", "named", "verdict", "evidence", "homes", "next",
    "state", "reopens", "history", "newest", "borne_out", "text"], "properties": {
    "kind": {"enum": ["drift", "step", "asymmetry", "bad_lot", "unit_eats_cells", "changes_too_early", "gauge_disagrees",
      "settings_not_up_to_date", "paced_longer"]},
    "state": {"enum": ["open", "seen", "taken_on", "closed"]},
    "newest": {"type": "integer", "description": "sent back as follows"}}},
  "Findings": {"type": "object", "required": ["as_of", "fresh", "waiting", "counts", "findings", "left_out"], "properties": {"as_of": {"$ref": "#/components/schemas/ReviewedAt"}, "left_out": {"$ref": "#/components/schemas/LeftOut"},
    "findings": {"type": "array", "items": {"$ref": "#/components/schemas/Finding"}}}},
  "FindingState": {"type": "object", "required": ["finding", "state", "follows"], "properties": {
    "finding": {"type": "string", "maxLength": 200}, "state": {"enum": ["open", "seen", "taken_on", "closed"], "description": "open: a step back"},
    "follows": {"type": "integer", "minimum": 0, "description": "newest, as it was read"},
    "reason": {"enum": ["cause_removed", "explained", "nothing_found", "cannot_tell"], "description": "of closed"},
    "note": {"type": "string", "maxLength": 200, "description": "no names, addresses or diagnoses"}}},
  "Wear": {"type": "object", "required": ["as_of", "kinds"], "properties": {"as_of": {"$ref": "#/components/schemas/ReviewedAt"}, "kinds": {"type": "array",
    "items": {"type": "object", "required": ["kind", "worn_out", "in_all", "fit", "text", "due"], "properties": {
      "due": {"type": "array", "items": {"type": "object", "required": ["household", "part", "side", "in_use_since",
        "days_in_use", "due_on", "expected_on", "worn_out_in_30_days", "text"], "properties": {
        "side": {"enum": ["left", "right", null]}}}}}}}}},
  "BenchCheck": {"type": "object", "required": ["side", "at", "what"],
    "oneOf": [{"required": ["hours_per_day"]}, {"required": ["rate_per_min", "amplitude"]}], "properties": {
    "side": {"$ref": "#/components/schemas/Side"}, "at": {"$ref": "#/components/schemas/Time"},
    "what": {"enum": ["settings_read", "hours_noted"]},
    "hours_per_day": {"type": "number", "exclusiveMinimum": 0, "maximum": 24},
    "rate_per_min": {"type": "number", "minimum": 1, "maximum": 60},
    "inspiratory_fraction": {"type": "number", "minimum": 0.05, "maximum": 0.95},
    "inspiratory_time_s": {"type": "number", "exclusiveMinimum": 0, "maximum": 60},
    "amplitude": {"type": "number", "minimum": 0.001, "maximum": 1000},
    "who": {"$ref": "#/components/schemas/Label"}, "confirmed": {"$ref": "#/components/schemas/Confirmed"}}},
  "Part": {"type": "object", "required": ["part", "at", "why"], "properties": {
    "part": {"type": "string", "maxLength": 60}, "side": {"$ref": "#/components/schemas/Side"},
    "at": {"$ref": "#/components/schemas/Time"},
    "why": {"enum": ["first", "worn_out", "other"], "description": "why the one before it came out"},
    "who": {"$ref": "#/components/schemas/Label"}, "confirmed": {"$ref": "#/components/schemas/Confirmed"}}},
  "UnitEvent": {"type": "object", "required": ["what"], "properties": {
    "voids": {"type": "integer", "minimum": 1, "description": "of void: number of the event that is taken back"},
    "at": {"$ref": "#/components/schemas/Time"}, "what": {"enum": ["workshop", "fault", "repaired", "withdrawn", "void"]},
    "note": {"type": "string", "maxLength": 200, "description": "names no household"},
    "confirmed": {"$ref": "#/components/schemas/Confirmed"}}},
  "AgencyRecorded": {"type": "object", "required": ["number", "kind", "recorded_at"]},
  "ProfileProposal": {"type": "object", "required": ["kind"], "properties": {
    "kind": {"enum": ["cell", "unit", "stimulator", "steps"]},
    "id": {"type": "string", "maxLength": 80}, "designation": {"type": "string", "maxLength": 40},
    "nominal_V": {"type": "number", "minimum": 0.5, "maximum": 12}, "source": {},
    "table": {"type": "string", "description": "as pasted: a head line of current_mA, resistance_ohm or power_mW, cutoff_V, hours or capacity_mAh"},
    "serial": {"type": "string", "maxLength": 60}, "base": {"type": "string", "maxLength": 80},
    "at": {"$ref": "#/components/schemas/Time"}, "bursts": {"type": "array", "items": {"type": "object",
      "required": ["side", "amplitude", "current_mA"]}},
    "gauge": {"type": "array", "items": {"type": "object", "required": ["set_V", "percent"]}},
    "cutoff_V": {"type": "number"}, "warning_percent": {"type": "number", "minimum": 0, "maximum": 100},
    "stimulator": {"type": "string", "maxLength": 80},
    "steps": {"type": "array", "maxItems": 12, "items": {"type": "string", "maxLength": 300}},
    "date": {"type": "string", "format": "date"}}},
  "TriedProfile": {"type": "object", "required": ["problems", "usable", "discharges", "fit", "residuals", "text"]},
  "Proposal": {"type": "object", "required": ["number", "kind", "subject", "state", "version", "proposed_at",
    "proposed_by_you", "proposer", "may_decide", "decided_at", "decider", "reason", "text"]},
  "Proposals": {"type": "object", "required": ["proposals"], "properties": {"proposals": {"type": "array",
    "items": {"$ref": "#/components/schemas/Proposal"}}}},
  "ProfileDecision": {"type": "object", "required": ["approve"], "properties": {"approve": {"type": "boolean"},
    "reason": {"type": "string", "maxLength": 200}}},
  "ProfileVersions": {"type": "object", "required": ["versions"], "properties": {"versions": {"type": "array",
    "items": {"type": "object", "required": ["kind", "subject", "version", "number", "approved_at", "in_force", "text"]}}}}
})json";

}  // namespace

nlohmann::json review_schemas() { return nlohmann::json::parse(bench); }

}  // namespace cellarer::api
