// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "model/cell/fit.hpp"

/// Which rows of a cell file are scored (score.hpp), and against what.
namespace cellarer::cell {

/// Hours at one load to one cut-off: the mean of the specimens.
struct ScoredRow {
  double current_mA = 0;
  int cutoff_cV = 0;  ///< hundredths of a volt, so that cut-offs compare exactly
  double hours = 0;
  std::size_t place = 0;  ///< of the first specimen's row in the file
};

int centivolts(double cutoff_V);
bool is_current(const Discharge& row, double current_mA);

/// 100 mA to 1.20 V and below, 500 mA to 1.00 V and below; by current, then by rising cut-off.
std::vector<ScoredRow> scored_rows(const PublishedCell& cell);

/// fitted / mean - 1.
double relative_error(const FitSummary& summary, const ScoredRow& row);

/// Two specimens, each at 100 and at 500 mA.
bool has_both_loads(const PublishedCell& cell);

}  // namespace cellarer::cell
