// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include <nlohmann/json.hpp>

/// A table of published discharges as people paste it: a head line that names the columns, then a line a discharge.
///
///     current_mA   cutoff_V   hours          one load column or several (current_mA, resistance_ohm, power_mW), of
///     100          0.9        23.2           which a line fills one; hours or capacity_mAh; start_V, on_s, period_s,
///     500          0.9        2.9            temperature_C and specimen if wanted
///
/// Columns are parted by tabs, else semicolons, else commas, as the head line has them; where it is not the comma that
/// parts them, 2,5 is 2.5. Nothing is corrected: what cannot be, or is most probably in another unit, is said with its
/// line and column and what was probably meant.
namespace cellarer {

struct TableProblem {
  int line = 0, column = 0;  ///< from 1; column 0: the whole line; line 0: the whole table
  std::string reason;
};

struct CellTable {
  nlohmann::json discharges = nlohmann::json::array();  ///< as in a cell file (cell_file.hpp)
  std::vector<int> lines;                               ///< of each discharge
  std::vector<TableProblem> problems;                   ///< at most 50
};

/// `nominal_V`: a cut-off at or above 1.1 times that is above what a fresh cell starts at. Never throws.
CellTable read_cell_table(std::string_view text, double nominal_V);

}  // namespace cellarer
