// SPDX-License-Identifier: MIT
#include "server/csv/writer.hpp"

#include <algorithm>

namespace cellarer::csv {

namespace {

constexpr std::string_view starts_formula = "=+-@\t\r";

bool is_plain_number(std::string_view cell) {
  if (cell.starts_with('-') || cell.starts_with('+')) cell.remove_prefix(1);
  const auto points = std::count(cell.begin(), cell.end(), '.');
  const bool digits = std::all_of(cell.begin(), cell.end(), [](char c) { return (c >= '0' && c <= '9') || c == '.'; });
  return digits && points <= 1 && static_cast<std::size_t>(points) < cell.size();
}

bool may_be_formula(std::string_view cell) {
  return !cell.empty() && starts_formula.find(cell.front()) != std::string_view::npos && !is_plain_number(cell);
}

std::string quoted(const std::string& cell) {
  if (cell.find_first_of(",\"\r\n") == std::string::npos) return cell;
  std::string text = "\"";
  for (const char c : cell) text.append(c == '"' ? 2 : 1, c);
  return text + '"';
}

}  // namespace

std::string without_formula(std::string_view cell) {
  return may_be_formula(cell) ? "'" + std::string(cell) : std::string(cell);
}

std::string with_formula(std::string_view cell) {
  const bool written_so = cell.starts_with('\'') && may_be_formula(cell.substr(1));
  return std::string(written_so ? cell.substr(1) : cell);
}

void Writer::line(const std::vector<std::string>& cells) {
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (i > 0) text_ += ',';
    text_ += quoted(without_formula(cells[i]));
  }
  text_ += "\r\n";
}

}  // namespace cellarer::csv
