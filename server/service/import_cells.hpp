// SPDX-License-Identifier: MIT
#pragma once
#include <map>
#include <unordered_set>

#include "server/csv/reader.hpp"
#include "server/json/field.hpp"
#include "server/service/import.hpp"

/// One table of an import, its cells by the names of its columns, and its problems as they are found.
namespace cellarer::service {

class ImportTable {
 public:
  ImportTable(const TableFile& file, std::vector<ImportProblem>& problems);

  const csv::Table& table() const { return table_; }
  /// The cell's text as it was typed; empty where the table lacks the column.
  std::string cell(const csv::Row& row, const std::string& column) const;
  void problem(const csv::Row& row, const std::string& column, const char* code, const std::string& text,
               bool asked = false);
  bool row_has_errors(const csv::Row& row) const;

  /// Runs a reader of facts.hpp on a document that holds this cell; what it refuses becomes a problem of the cell,
  /// under `code`. Whether it was read.
  template <class Read>
  bool reads(const csv::Row& row, const std::string& column, const char* code, const Read& read) {
    try {
      read();
      return true;
    } catch (const json::Refused& refused) {
      problem(row, column, refused.code() == "too-long" ? "too-long" : code, sentence(column, refused.reason()));
      return false;
    }
  }

  /// An empty cell of a column that must be filled is a problem. Whether something stands there.
  bool filled(const csv::Row& row, const std::string& column);
  /// A whole or decimal number, with a point; none, with the problem said, where it is not.
  std::optional<nlohmann::json> number(const csv::Row& row, const std::string& column, bool whole);
  /// The first line with the same key is told.
  void refuse_twice(const csv::Row& row, const std::string& key, const std::string& column, const char* what);

 private:
  static std::string sentence(const std::string& column, const std::string& reason);
  void check_columns(const TableFile& file);
  void tell(ImportProblem problem);

  csv::Table table_;
  std::string name_;
  std::map<std::string, std::size_t> at_;
  std::map<std::string, int> seen_;
  std::unordered_set<int> wrong_lines_;  ///< looked at for each row: a table may be wrong in every line
  std::vector<ImportProblem>& problems_;
};

}  // namespace cellarer::service
