// SPDX-License-Identifier: MIT
#pragma once
#include <string>
#include <vector>

#include "model/stock/dates.hpp"
#include "model/stock/ledger.hpp"
#include "model/stock/renewal.hpp"

/// What to pack for a stay away, and what a time without deliveries needs: the same question.
namespace cellarer::stock {

struct PackPolicy {
  double service_level = 0.999;  ///< probability that what is packed is enough, before the spare
  int spare_units = 1;           ///< on top: a dropped cell, a dud, a day longer; 0 or more
};

struct Packing {
  std::string item;
  int units = 0;             ///< whole sets, or pieces of other items, the spare included
  int pieces = 0;            ///< units times pieces of a unit
  double odds = 1;           ///< probability that this is enough for the days asked
  double odds_unspared = 1;  ///< the same without the spare
  std::vector<Line> take;    ///< from which lines: usable to the last day, first expired first; whole sets
  int missing_pieces = 0;    ///< what stock cannot give
};

/// For the days `from` to `to` (both included; within the horizon of `demand`, days outside it are left out).
/// What is in the unit's sides on the day of leaving stays in them and is not counted as packed.
/// No use expected at all: nothing is packed but the spare.
Packing pack(const std::string& item, const Stock& stock, const Demand& demand, Date today, Date from, Date to,
             const PackPolicy& policy = {});

}  // namespace cellarer::stock
