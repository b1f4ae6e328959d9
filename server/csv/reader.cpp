// SPDX-License-Identifier: MIT
#include "server/csv/reader.hpp"

#include <algorithm>

#include "server/json/utf8.hpp"

namespace cellarer::csv {

namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

/// Cuts the text into records; knows nothing of what they mean.
class Cutter {
 public:
  Cutter(std::string_view text, const Limits& limits, std::vector<Fault>& faults)
      : text_(text), limits_(limits), faults_(faults) {}

  bool at_end() const { return at_ >= text_.size() || stopped_; }

  Row record() {
    Row row{line_, {}};
    for (;;) {
      row.cells.push_back(field(static_cast<int>(row.cells.size()) + 1));
      if (stopped_ || at_ >= text_.size()) break;
      if (text_[at_] == ',') {
        ++at_;
        continue;
      }
      end_line();
      break;
    }
    return row;
  }

 private:
  void fault(int column, const char* code, const std::string& text, std::string value = "") {
    constexpr std::size_t shown = 80;
    if (value.size() > shown) value = std::string(json::whole_characters(std::string_view(value).substr(0, shown)));
    faults_.push_back({line_, column, code, text, std::move(value)});
  }

  void stop(int column, const char* code, const std::string& text, const std::string& value) {
    fault(column, code, text, value);
    stopped_ = true;
  }

  std::string field(int column) {
    const bool quoted = at_ < text_.size() && text_[at_] == '"';
    std::string cell = quoted ? quoted_field(column) : bare_field(column);
    if (stopped_) return cell;
    if (cell.size() > limits_.cell_bytes) {
      fault(column, "too-long", "A cell may have " + std::to_string(limits_.cell_bytes) + " bytes.", cell);
      cell.clear();
    }
    const bool control = std::any_of(cell.begin(), cell.end(), [](char c) {
      const auto byte = static_cast<unsigned char>(c);
      return (byte < 0x20 && c != '\n' && c != '\r' && c != '\t') || byte == 0x7f;
    });
    if (control) fault(column, "control-character", "A control character stands in this cell: remove it.");
    return cell;
  }

  std::string bare_field(int column) {
    const auto end = std::min(text_.find_first_of(",\r\n\"", at_), text_.size());
    std::string cell(text_.substr(at_, end - at_));
    at_ = end;
    if (at_ < text_.size() && text_[at_] == '"') {
      stop(column, "bad-quote",
           "A quote stands within this cell: put the whole cell in quotes, and write the quote twice.", cell + "\"");
    }
    return cell;
  }

  std::string quoted_field(int column) {
    std::string cell;
    const int begun = line_;
    ++at_;
    for (;;) {
      const auto quote = text_.find('"', at_);
      const auto piece = text_.substr(at_, quote - at_);
      line_ += static_cast<int>(std::count(piece.begin(), piece.end(), '\n'));
      cell += piece;
      if (quote == std::string_view::npos) {
        line_ = begun;
        at_ = text_.size();
        stop(column, "bad-quote", "The quote that opens this cell is never closed.", cell);
        return cell;
      }
      at_ = quote + 1;
      if (at_ >= text_.size() || text_[at_] != '"') break;
      cell += '"';
      ++at_;
    }
    if (at_ < text_.size() && std::string_view(",\r\n").find(text_[at_]) == std::string_view::npos)
      stop(column, "bad-quote", "Something follows the closing quote of this cell.", cell);
    return cell;
  }

  void end_line() {
    if (text_[at_] == '\r' && (at_ + 1 >= text_.size() || text_[at_ + 1] != '\n')) {
      stop(0, "bad-line-end", "A line ends in a carriage return alone: save the file with line ends CRLF.", "");
      return;
    }
    at_ += text_[at_] == '\r' ? 2 : 1;
    ++line_;
  }

  std::string_view text_;
  const Limits& limits_;
  std::vector<Fault>& faults_;
  std::size_t at_ = 0;
  int line_ = 1;
  bool stopped_ = false;
};

std::string columns_words(std::size_t found, std::size_t wanted, const Row& row) {
  std::string text = "This line has " + std::to_string(found) + (found == 1 ? " cell" : " cells") +
                     ", the header has " + std::to_string(wanted) + ".";
  if (found == 1 && row.cells.front().find(';') != std::string::npos) text += " Cells are divided by commas.";
  return text;
}

bool is_blank(const Row& row) { return row.cells.size() == 1 && row.cells.front().empty(); }

/// Whether the text can be read at all; where not, the fault says at which line.
bool readable(std::string_view bytes, std::vector<Fault>& faults) {
  const auto bad = json::first_not_utf8(bytes);
  if (!bad) return true;
  const auto before = bytes.substr(0, *bad);
  const int line = 1 + static_cast<int>(std::count(before.begin(), before.end(), '\n'));
  const auto begin = before.rfind('\n') + 1;  // npos + 1 is 0
  const auto of_line = before.substr(begin);
  const int column = 1 + static_cast<int>(std::count(of_line.begin(), of_line.end(), ','));
  faults.push_back({line, column, "not-utf-8", "This is not UTF-8: save the file as \"CSV UTF-8\".", ""});
  return false;
}

}  // namespace

Table read(std::string_view bytes, const Limits& limits) {
  Table table;
  if (!readable(bytes, table.faults)) return table;
  if (bytes.starts_with(byte_order_mark)) bytes.remove_prefix(byte_order_mark.size());
  Cutter cutter(bytes, limits, table.faults);
  if (!cutter.at_end()) table.header = cutter.record().cells;
  if (table.header.empty() || (table.header.size() == 1 && table.header.front().empty())) {
    if (table.faults.empty()) table.faults.push_back({1, 0, "empty-file", "The first line names the columns.", ""});
    return table;
  }
  if (table.header.size() > limits.columns) {
    table.faults.push_back(
        {1, 0, "wrong-columns", "A table may have " + std::to_string(limits.columns) + " columns.", ""});
    return table;
  }
  while (!cutter.at_end()) {
    const auto faults = table.faults.size();
    Row row = cutter.record();
    if (table.faults.size() > faults || is_blank(row)) continue;
    if (row.cells.size() != table.header.size()) {
      table.faults.push_back(
          {row.line, 0, "wrong-columns", columns_words(row.cells.size(), table.header.size(), row), ""});
      continue;
    }
    if (table.rows.size() >= limits.rows) {
      table.faults.push_back(
          {row.line, 0, "too-many-lines", "At most " + std::to_string(limits.rows) + " lines at once.", ""});
      break;
    }
    table.rows.push_back(std::move(row));
  }
  return table;
}

}  // namespace cellarer::csv
