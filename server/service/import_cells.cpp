// SPDX-License-Identifier: MIT
#include "server/service/import_cells.hpp"

#include <algorithm>
#include <charconv>

#include "server/csv/writer.hpp"

namespace cellarer::service {

ImportTable::ImportTable(const TableFile& file, std::vector<ImportProblem>& problems)
    : table_(csv::read(file.bytes)), name_(file.name), problems_(problems) {
  for (const csv::Fault& fault : table_.faults)
    tell({name_, fault.line, fault.column, "", fault.code, false, fault.value, fault.text});
  for (std::size_t i = 0; i < table_.header.size(); ++i) {
    auto& name = table_.header[i];
    name.erase(0, name.find_first_not_of(' '));
    name.erase(name.find_last_not_of(' ') + 1);
  }
  check_columns(file);
}

void ImportTable::check_columns(const TableFile& file) {
  if (table_.header.empty()) return;
  const auto& known = columns_of(file.kind);
  std::string all;
  for (const auto& name : known) all += (all.empty() ? "" : ", ") + name;
  const auto wrong = [&](std::size_t column, const std::string& name, const char* code, const std::string& text) {
    tell({name_, 1, static_cast<int>(column), name, code, false, name, text});
  };
  for (std::size_t i = 0; i < table_.header.size(); ++i) {
    const auto& name = table_.header[i];
    if (std::find(known.begin(), known.end(), name) == known.end())
      wrong(i + 1, name, "unknown-column", "There is no such column here: this table has " + all + ".");
    else if (!at_.emplace(name, i).second)
      wrong(i + 1, name, "unknown-column", "This column is there twice.");
  }
  static const std::set<std::string> may_lack{
      "area", "stop",    "pack_size", "lead_days", "every_days", "per_cell_change",
      "lot",  "expires", "place",     "counted_at"};
  for (const auto& name : known) {
    if (at_.count(name) == 0 && may_lack.count(name) == 0)
      wrong(0, name, "missing-column", "The column " + name + " is missing: this table has " + all + ".");
  }
}

std::string ImportTable::cell(const csv::Row& row, const std::string& column) const {
  const auto found = at_.find(column);
  return found == at_.end() ? "" : csv::with_formula(row.cells[found->second]);
}

void ImportTable::problem(const csv::Row& row, const std::string& column, const char* code, const std::string& text,
                          bool asked) {
  const auto found = at_.find(column);
  const int number = found == at_.end() ? 0 : static_cast<int>(found->second) + 1;
  tell({name_, row.line, number, column, code, asked, cell(row, column), text});
}

void ImportTable::tell(ImportProblem problem) {
  if (!problem.asked) wrong_lines_.insert(problem.line);
  problems_.push_back(std::move(problem));
}

bool ImportTable::row_has_errors(const csv::Row& row) const { return wrong_lines_.count(row.line) > 0; }

std::string ImportTable::sentence(const std::string& column, const std::string& reason) {
  const bool goes_on = reason.starts_with("is ") || reason.starts_with("has ") || reason.starts_with("may ");
  return (goes_on ? "The " + column + " " : column + ": ") + reason + ".";
}

bool ImportTable::filled(const csv::Row& row, const std::string& column) {
  if (!cell(row, column).empty()) return true;
  if (at_.count(column) > 0) problem(row, column, "missing", "This cell is empty: the " + column + " is needed.");
  return false;
}

std::optional<nlohmann::json> ImportTable::number(const csv::Row& row, const std::string& column, bool whole) {
  const auto text = cell(row, column);
  const char* const end = text.data() + text.size();
  int pieces = 0;
  double value = 0;
  const auto read = whole ? std::from_chars(text.data(), end, pieces) : std::from_chars(text.data(), end, value);
  if (read.ec == std::errc() && read.ptr == end) return whole ? nlohmann::json(pieces) : nlohmann::json(value);
  std::string why = whole ? "This is no whole number." : "This is no number.";
  if (text.find(',') != std::string::npos) why += " Write it with a point and without spaces.";
  problem(row, column, "not-a-number", why);
  return std::nullopt;
}

void ImportTable::refuse_twice(const csv::Row& row, const std::string& key, const std::string& column,
                               const char* what) {
  const auto [first, fresh] = seen_.emplace(key, row.line);
  if (fresh) return;
  problem(row, column, "duplicate", std::string(what) + " stands in line " + std::to_string(first->second) + " too.");
}

}  // namespace cellarer::service
