// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <string_view>
#include <vector>

/// Tables as text (RFC 4180): cells by commas, lines by CRLF, quoted where a comma, a quote or a line end stands in
/// them. `reader.hpp` reads them.
///
/// A spreadsheet takes a cell that begins with = + - @ (or a tab, a carriage return) for a formula and may run it. What
/// people typed is not to be run on a planner's desk, so such a cell gets an apostrophe in front, which spreadsheets
/// show as text (OWASP, "CSV Injection"). A plain number keeps its sign.
namespace cellarer::csv {

/// With the apostrophe where it is needed; not yet quoted.
std::string without_formula(std::string_view cell);

/// The apostrophe taken off again, so that an export can be imported.
std::string with_formula(std::string_view cell);

class Writer {
 public:
  explicit Writer(const std::vector<std::string>& columns) { line(columns); }
  void line(const std::vector<std::string>& cells);
  const std::string& text() const { return text_; }

 private:
  std::string text_;
};

}  // namespace cellarer::csv
