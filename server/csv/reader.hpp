// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <string_view>
#include <vector>

/// Reading a table that a stranger saved: strict, and every fault said with its line and column.
///
///     file    = header line-end *(record line-end)          RFC 4180, section 2
///     record  = field *("," field)
///     field   = DQUOTE *(anything but DQUOTE, or DQUOTE DQUOTE) DQUOTE
///             / *(anything but DQUOTE, comma, CR, LF)
///
/// Beyond the RFC's letter: the text is UTF-8 (a byte order mark is passed over), and a line may end in LF alone, as
/// programs write it; CR alone does not end one. Within quotes line ends are text. Spaces belong to the cell. A quote
/// within a bare field, or something after a closing quote, is a fault and never guessed at.
/// After a fault of quoting the rest cannot be read: the rows before it are answered with the fault.
namespace cellarer::csv {

struct Limits {
  std::size_t rows = 10'000, columns = 40, cell_bytes = 2'000;
};

/// Columns count from 1; 0 is the whole line.
struct Fault {
  int line = 0, column = 0;
  std::string code;  ///< "not-utf-8", "bad-quote", "wrong-columns", "control-character", "too-long", "too-many-lines",
                     ///< "empty-file"
  std::string text;  ///< a sentence that says what would be right
  std::string value;
};

struct Row {
  int line = 0;  ///< in which it begins; with line ends within quotes, lines are more than rows
  std::vector<std::string> cells;
};

struct Table {
  std::vector<std::string> header;
  std::vector<Row> rows;  ///< each with as many cells as the header has
  std::vector<Fault> faults;
};

Table read(std::string_view bytes, const Limits& limits = {});

}  // namespace cellarer::csv
