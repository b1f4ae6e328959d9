// SPDX-License-Identifier: MIT
// A table of published figures, as somebody pastes it, and the cell that is made of it.
#include "server/profiles/cell_file.hpp"
#include "server/profiles/cell_table.hpp"
#include "tests/fuzz/fuzz.hpp"

using namespace cellarer;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto table = read_cell_table(fuzz::as_text(data, size), 1.5);
  fuzz::must(table.lines.size() == table.discharges.size());
  fuzz::must(!table.discharges.empty() || !table.problems.empty());
  for (const auto& problem : table.problems) fuzz::must(!problem.reason.empty() && problem.line >= 0);
  if (!table.problems.empty()) return 0;
  const nlohmann::json document{{"id", "pasted"},
                                {"designation", "LR6"},
                                {"nominal_V", 1.5},
                                {"source", {{"title", "pasted"}, {"basis", "data sheet"}}},
                                {"discharges", table.discharges}};
  try {
    read_cell(json::Field(document, ""));
  } catch (const json::Refused& refused) {
    fuzz::must(!refused.reason().empty());
  }
  return 0;
}
