// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "model/quantities/time.hpp"

/// Sets of time, each a list of half-open intervals in order and apart from each other.
namespace cellarer::duty {

/// From `from` up to but not including `to`.
struct Interval {
  Instant from, to;
  bool empty() const { return !(from < to); }
  bool operator==(const Interval&) const = default;
};

using Intervals = std::vector<Interval>;

/// In order, overlapping and touching ones made one, empty ones dropped.
Intervals merged(Intervals intervals);

/// The part of `intervals` (in order, apart) that lies within `window`.
Intervals within(const Intervals& intervals, Interval window);

/// The part of `intervals` outside `hole`, in order and apart.
Intervals without(const Intervals& intervals, Interval hole);

/// The part of `window` that no interval covers.
Intervals gaps(const Intervals& intervals, Interval window);

std::chrono::seconds total(const Intervals& intervals);

}  // namespace cellarer::duty
