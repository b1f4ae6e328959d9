// SPDX-License-Identifier: MIT
#include "server/api/base64.hpp"
#include "server/api/table_handlers.hpp"
#include "server/api/write_door.hpp"
#include "server/service/import.hpp"

namespace cellarer::api {

using cellarer::json::Field;

namespace {

constexpr std::size_t most_files = 6, most_told = 500, longest_table = std::size_t{4} << 20;

struct AskedImport {
  std::vector<service::TableFile> files;
  std::set<std::string> accepted;
};

/// A table's text: line ends and all, which other texts may not hold.
std::string bytes_of(const Field& file) {
  const auto plain = file.find("csv");
  const auto coded = file.find("csv_base64");
  if (!plain && !coded) throw cellarer::json::Refused("missing", file.place() + "/csv", "is required, or csv_base64");
  const Field& given = plain ? *plain : *coded;
  if (!given.value().is_string()) given.refuse("wrong-type", "expected the table's text");
  const auto& text = given.value().get_ref<const std::string&>();
  if (text.size() > longest_table) given.refuse("too-long", "is too long: take the table in in parts");
  if (plain) return text;
  const auto bytes = from_base64(text);
  if (!bytes) given.refuse("out-of-range", "is no base64 (RFC 4648)");
  return *bytes;
}

AskedImport read_asked(const Field& body) {
  static constexpr std::initializer_list<const char*> kinds{"households", "items", "counts"};
  AskedImport asked;
  for (const Field& file : body["files"].elements(most_files)) {
    service::TableFile table;
    const auto kind = file["kind"].word(kinds);
    table.kind = static_cast<service::TableKind>(kind);
    const auto name = file.find("name");
    table.name = name ? name->text(120) : std::string(std::data(kinds)[kind]) + ".csv";
    for (const auto& other : asked.files) {
      if (other.name == table.name) file.refuse("out-of-range", "has the name of another: give each its own");
    }
    table.bytes = bytes_of(file);
    asked.files.push_back(std::move(table));
  }
  if (asked.files.empty()) body["files"].refuse("out-of-range", "is empty: give at least one table");
  if (const auto accept = body.find("accept")) {
    for (const Field& code : accept->elements(10)) asked.accepted.insert(code.text(40));
  }
  return asked;
}

nlohmann::json checked_document(const service::Checked& checked, const std::set<std::string>& accepted) {
  auto problems = nlohmann::json::array();
  int errors = 0, questions = 0;
  for (const auto& one : checked.problems) {
    ++(one.asked ? questions : errors);
    if (problems.size() >= most_told) continue;
    problems.push_back({{"file", one.file},
                        {"line", one.line},
                        {"column", one.column},
                        {"column_name", one.column_name},
                        {"code", one.code},
                        {"severity", one.asked ? "ask" : "error"},
                        {"value", one.value},
                        {"text", one.text}});
  }
  const auto told = problems.size();
  return {{"can_apply", checked.can_apply(accepted)},
          {"would", {{"households", checked.households}, {"items", checked.items}, {"counts", checked.counts}}},
          {"errors", errors},
          {"asked", questions},
          {"problems", std::move(problems)},
          {"more_problems", checked.problems.size() - told}};
}

Response applied_answer(const service::Applied& applied) {
  return json_response(
      {{"applied", {{"households", applied.households}, {"items", applied.items}, {"counts", applied.counts}}},
       {"text", "Taken in: " + std::to_string(applied.households) + " households, " + std::to_string(applied.items) +
                    " items, " + std::to_string(applied.counts) + " counts."}},
      201);
}

}  // namespace

Response post_import_check(const Context& context, const Request& request, const Parts&) {
  const auto document = cellarer::json::parse(request.body);
  const auto asked = read_asked(Field(document, ""));
  const auto checked = service::check_import(context.households, request.principal->agency, asked.files);
  return json_response(checked_document(checked, asked.accepted));
}

Response post_import(const Context& context, const Request& request, const Parts&) {
  const auto& agency = request.principal->agency;
  const auto key = require_key(request);
  const auto document = cellarer::json::parse(request.body);
  const auto asked = read_asked(Field(document, ""));
  if (const auto before = service::applied_before(context.households, agency, key)) return applied_answer(*before);
  auto checked = service::check_import(context.households, agency, asked.files);
  if (!checked.can_apply(asked.accepted)) {
    Problem problem(ProblemCode::import_refused,
                    "Nothing was stored. Every problem is listed with its line and column; what is only asked about is "
                    "taken when its code stands in accept.");
    problem.more = checked_document(checked, asked.accepted);
    throw problem;
  }
  const service::Applied applied{checked.households, checked.items, checked.counts};
  service::apply_import(context.households, agency, std::move(checked), key, request.principal->account,
                        request.principal->label);
  return applied_answer(applied);
}

}  // namespace cellarer::api
