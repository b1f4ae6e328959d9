// SPDX-License-Identifier: MIT
// Tables that a stranger saved: what is read can be written, and reads as the same again.
#include "server/csv/reader.hpp"
#include "server/csv/writer.hpp"
#include "server/json/utf8.hpp"
#include "tests/fuzz/fuzz.hpp"

using namespace cellarer;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto table = csv::read(fuzz::as_text(data, size), {100, 12, 200});
  for (const auto& fault : table.faults) {
    fuzz::must(fault.line >= 1 && fault.column >= 0 && !fault.code.empty() && !fault.text.empty());
    fuzz::must(json::is_utf8(fault.value));
  }
  if (table.header.empty()) return 0;
  csv::Writer written(table.header);
  for (const auto& row : table.rows) {
    fuzz::must(row.cells.size() == table.header.size());
    for (const auto& cell : row.cells) fuzz::must(json::is_utf8(cell));
    written.line(row.cells);
  }
  if (table.header.size() == 1 || !table.faults.empty()) return 0;  // a blank cell alone on its line is a blank line
  const auto again = csv::read(written.text(), {100, 12, 500});
  fuzz::must(again.rows.size() == table.rows.size());
  for (std::size_t i = 0; i < again.rows.size(); ++i) {
    for (std::size_t k = 0; k < again.header.size(); ++k)
      fuzz::must(again.rows[i].cells[k] == csv::without_formula(table.rows[i].cells[k]));
  }
  return 0;
}
