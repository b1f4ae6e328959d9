// SPDX-License-Identifier: MIT
// An import: the request with its tables, and each table with its columns and numbers. The first letter chooses the
// whole request, or one kind of table.
#include "server/api/import_request.hpp"
#include "server/json/utf8.hpp"
#include "server/service/import_cells.hpp"
#include "tests/fuzz/fuzz.hpp"

using namespace cellarer;

namespace {

void a_table(const service::TableFile& file) {
  std::vector<service::ImportProblem> problems;
  service::ImportTable table(file, problems);
  for (const auto& row : table.table().rows) {
    for (const auto& column : service::columns_of(file.kind)) {
      if (!table.filled(row, column)) continue;
      const auto whole = table.number(row, column, true), decimal = table.number(row, column, false);
      fuzz::must(!whole || decimal);  // each whole number is a number
    }
    table.refuse_twice(row, table.cell(row, "household"), "household", "This household");
  }
  for (const auto& problem : problems) {
    fuzz::must(problem.file == file.name && problem.line >= 1 && problem.column >= 0 && !problem.code.empty());
    fuzz::must(json::is_utf8(problem.value) && json::is_utf8(problem.text));
  }
}

void a_request(std::string_view text) {
  const auto document = json::parse(text);
  const auto asked = api::read_import_request(json::Field(document, ""));
  fuzz::must(!asked.files.empty());
  for (const auto& file : asked.files) a_table(file);
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  std::string_view text = fuzz::as_text(data, size);
  const auto chosen = fuzz::choose(text, 4);
  try {
    if (chosen == 0)
      a_request(text);
    else
      a_table({static_cast<service::TableKind>(chosen - 1), "table.csv", std::string(text)});
  } catch (const json::Refused& refused) {
    fuzz::must(!refused.reason().empty());
  }
  return 0;
}
