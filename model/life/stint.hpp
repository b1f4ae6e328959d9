// SPDX-License-Identifier: MIT
#pragma once
#include <optional>
#include <vector>

#include "model/life/forecast.hpp"

namespace cellarer::life {

/// One set's time in one side: the change that brought it, the readings made of it, the change that ended it.
struct Stint {
  CellChange in;
  std::optional<CellChange> out;
  std::vector<Reading> readings;  ///< by time
  bool operator==(const Stint&) const = default;
};

/// The records known at `as_of` (happened and recorded by then) of one side, as its sets followed each other. A late
/// entry takes its place in time. A change that is perhaps the same as the one before it ends nothing: until someone
/// answers, the older set counts. A reading at the very minute of a change is of the set that came out (people look
/// before they change), unless its condition is "just switched on". Readings of a side without any recorded change
/// begin a set of unknown type and age at the first of them.
std::vector<Stint> stints(const Household& household, Side side, Instant as_of);

/// The newest thing recorded of this side, by when it happened; none if nothing was.
std::optional<Instant> last_recorded(const Household& household, Side side, Instant as_of);

}  // namespace cellarer::life
