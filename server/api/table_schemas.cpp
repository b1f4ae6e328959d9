// SPDX-License-Identifier: MIT
#include "server/api/table_schemas.hpp"

namespace cellarer::api {

namespace {

constexpr const char* tables = R"json({
  "Tables": {"type": "object", "required": ["files"], "properties": {
    "files": {"type": "array", "minItems": 1, "maxItems": 6, "items": {"type": "object", "required": ["kind"],
      "oneOf": [{"required": ["csv"]}, {"required": ["csv_base64"]}], "properties": {
      "kind": {"enum": ["households", "items", "counts"]}, "name": {"type": "string", "maxLength": 120},
      "csv": {"type": "string", "description": "RFC 4180 with a header line"},
      "csv_base64": {"type": "string", "description": "the file's bytes, so that its encoding can be looked at"}}}},
    "accept": {"type": "array", "items": {"enum": ["missing-area", "unknown-lot", "recalled-lot"]},
      "description": "what was asked about and is right"}}},
  "TableProblem": {"type": "object", "required": ["file", "line", "column", "column_name", "code", "severity", "value", "text"],
    "properties": {"line": {"type": "integer"}, "column": {"type": "integer", "description": "from 1; 0: the whole line"},
    "severity": {"enum": ["error", "ask"]}}},
  "CheckedTables": {"type": "object", "required": ["can_apply", "would", "errors", "asked", "problems", "more_problems"], "properties": {
    "problems": {"type": "array", "items": {"$ref": "#/components/schemas/TableProblem"}}}},
  "AppliedTables": {"type": "object", "required": ["applied", "text"]},
  "ExportedTable": {"type": "object", "required": ["as_of", "rows", "left_out"], "properties": {"left_out": {"$ref": "#/components/schemas/LeftOut"}},
    "description": "of the forecast each row has its time, what the unit said, and the caution; as .csv: text/csv (RFC 4180), with the header Cellarer-Left-Out where homes are"}
})json";

}  // namespace

nlohmann::json table_schemas() { return nlohmann::json::parse(tables); }

}  // namespace cellarer::api
