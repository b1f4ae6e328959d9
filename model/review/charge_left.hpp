// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "model/life/forecast.hpp"
#include "model/life/load_table.hpp"

namespace cellarer::review {

/// What a set still had in it when it was taken out.
///
///     left = 1 - q / Q       q   reference charge that it gave, by settings, spans and profile [mAh]
///                            Q   reference charge to cut-off, as the forecast's own machinery believes it after all of
///                                the set's readings and with what the household's other sets have taught [mAh]
///
/// The range is that of Q: 5 % of left is 1 - q over Q's 5 %. A set that was recorded as run out has nothing left.
/// What one set had left is never known exactly; only what was known of it is said here.
struct ChargeLeft {
  Side side = Side::left;
  Instant from, to;
  life::ChangeReason ended = life::ChangeReason::unknown;
  int cells = 2;
  life::Quantiles<double> share;  ///< of its charge to cut-off, 0 to 1
};

struct ChargesLeft {
  std::vector<ChargeLeft> sets;  ///< by when they came out
  int unknown = 0;               ///< ended too, but of no known type, settings or unit, or in hospital meanwhile
  int unknown_cells = 0;         ///< in those sets
};

/// Of sets that came out from `since` on, as known at `as_of`.
ChargesLeft charges_left(const life::Household& household, Instant since, Instant as_of, life::LoadTables& tables);

}  // namespace cellarer::review
