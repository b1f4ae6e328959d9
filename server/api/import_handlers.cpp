// SPDX-License-Identifier: MIT
#include "server/api/import_request.hpp"
#include "server/api/table_handlers.hpp"
#include "server/api/write_door.hpp"
#include "server/service/import.hpp"

namespace cellarer::api {

using cellarer::json::Field;

namespace {

constexpr std::size_t most_told = 500;

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
  const auto asked = read_import_request(Field(document, ""));
  const auto checked = service::check_import(context.households, request.principal->agency, asked.files);
  return json_response(checked_document(checked, asked.accepted));
}

Response post_import(const Context& context, const Request& request, const Parts&) {
  const auto& agency = request.principal->agency;
  const auto key = require_key(request);
  const auto document = cellarer::json::parse(request.body);
  const auto asked = read_import_request(Field(document, ""));
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
