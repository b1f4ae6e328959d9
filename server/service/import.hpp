// SPDX-License-Identifier: MIT
#pragma once
#include <set>
#include <string>
#include <vector>

#include "server/service/household_service.hpp"

/// Tables of households, items and counts, taken in at once.
///
/// Everything is checked first, every cell by the reader that checks the same field of the API (facts.hpp), so that one
/// look shows every problem with its line and column. Only a table without any is stored, and then in one transaction:
/// nothing is ever half applied. What is not wrong but should be looked at (a lot that nobody knows, a home without an
/// area) is asked about once, by its code.
///
///     households: household,area,zone,changing_times,stop          times divided by ; stop: the door that several
///     share items:      household,item,pack_size,lead_days,every_days,per_cell_change counts:
///     household,item,lot,quantity,unit,expires,place,counted_at       in pieces; lot to counted_at may be empty
namespace cellarer::service {

enum class TableKind { households, items, counts };

struct TableFile {
  TableKind kind = TableKind::households;
  std::string name, bytes;
};

/// Line and column as in csv::Fault.
struct ImportProblem {
  std::string file;
  int line = 0, column = 0;
  std::string column_name, code;
  bool asked = false;  ///< accepted where its code is among those accepted
  std::string value, text;
};

struct Checked {
  store::Batch batch;  ///< what would be stored, without keys
  int households = 0, items = 0, counts = 0;
  std::vector<ImportProblem> problems;  ///< by file, line, column
  /// Nothing is wrong, and whatever is asked about was accepted.
  bool can_apply(const std::set<std::string>& accepted) const;
};

/// Stores nothing. Folds the agency's homes where lots are named: on a worker.
Checked check_import(HouseholdService& households, const std::string& agency, const std::vector<TableFile>& files);

/// The columns of a kind, in the order in which an export writes them.
const std::vector<std::string>& columns_of(TableKind kind);

struct Applied {
  int households = 0, items = 0, counts = 0;
};

/// Stores what was checked, under one key: sent again it answers the same. Throws as AgencyJournal::write_together.
void apply_import(HouseholdService& households, const std::string& agency, Checked checked, const std::string& key,
                  const std::string& account, const std::string& who);

/// What was stored under that key before; none: nothing.
std::optional<Applied> applied_before(HouseholdService& households, const std::string& agency, const std::string& key);

}  // namespace cellarer::service
