// SPDX-License-Identifier: MIT
#pragma once
#include <limits>
#include <string>
#include <vector>

#include "model/stock/dates.hpp"
#include "model/stock/records.hpp"

/// First expired, first out.
namespace cellarer::stock {

inline constexpr int never_expires = std::numeric_limits<int>::max();

/// One line as a source of whole units.
struct Lot {
  Line line;
  int last_day = never_expires;  ///< index of the last usable day, today being 0
  int units = 0;                 ///< whole units: a set is of one line, an odd last cell counts as none
};

/// The lines of one item in the order of use: what expires first, then by lot and place; what does not expire comes
/// last. Expired lines (last_day below 0) come first and are part of the answer: leave them out where they do not
/// count.
std::vector<Lot> lots_in_order(const std::vector<Line>& lines, const std::string& item, Date today,
                               int pieces_per_unit);

}  // namespace cellarer::stock
