// SPDX-License-Identifier: MIT
#pragma once
#include "model/review/charts.hpp"
#include "model/review/household_review.hpp"

namespace cellarer::review {

/// What differs between a set and the one before it in the same side, when it went in. What changed while a set was in
/// stands in SetRecord::changes: a change is marked once, where it happened.
struct Marks {
  bool settings = false, unit = false, lot = false, cell_type = false;
};

/// One set on a side's chart.
struct ChartPoint {
  std::size_t record = 0;  ///< index into the history's records
  Instant at;              ///< when it came out
  double log_ratio = 0;
  double expected = 0, expected_sd = 0;  ///< by the sets before it, of both sides, each with its spread
  double surprise = 0;                   ///< (log_ratio - expected) / expected_sd
  EwmaPoint ewma;                        ///< of the surprise
  CusumPoint cusum;
};

Marks marks_between(const SetRecord& before, const SetRecord& set);

/// The chart of one side's log ratio. Limits are of the standardised surprise, whose target is nought and whose
/// standard deviation is one however few sets the baseline rests on: its uncertainty is in `expected_sd`. So the run
/// lengths of the literature hold: 500 sets between false signals of the EWMA, 370 of the CUSUM. What the household has
/// settled is not held against later sets. After a change the baseline slowly follows: findings (household_review.hpp)
/// weigh all sets together and see more than the charts do.
std::vector<ChartPoint> side_chart(const HouseholdHistory& history, Side side, const Spreads& spreads);

}  // namespace cellarer::review
