// SPDX-License-Identifier: MIT
#include "model/duty/intervals.hpp"

#include <algorithm>

namespace cellarer::duty {

Intervals merged(Intervals intervals) {
  std::erase_if(intervals, [](const Interval& one) { return one.empty(); });
  const auto earlier = [](const Interval& a, const Interval& b) { return a.from < b.from; };
  if (!std::is_sorted(intervals.begin(), intervals.end(), earlier))
    std::sort(intervals.begin(), intervals.end(), earlier);
  Intervals apart;
  apart.reserve(intervals.size());
  for (const Interval& next : intervals) {
    if (!apart.empty() && next.from <= apart.back().to) {
      apart.back().to = std::max(apart.back().to, next.to);
    } else {
      apart.push_back(next);
    }
  }
  return apart;
}

Intervals within(const Intervals& intervals, Interval window) {
  Intervals part;
  auto next = std::partition_point(intervals.begin(), intervals.end(),
                                   [&](const Interval& one) { return one.to <= window.from; });
  for (; next != intervals.end() && next->from < window.to; ++next) {
    const Interval clipped{std::max(next->from, window.from), std::min(next->to, window.to)};
    if (!clipped.empty()) part.push_back(clipped);
  }
  return part;
}

Intervals without(const Intervals& intervals, Interval hole) {
  if (hole.empty()) return intervals;
  Intervals part;
  for (const Interval& one : intervals) {
    const Interval before{one.from, std::min(one.to, hole.from)}, after{std::max(one.from, hole.to), one.to};
    if (!before.empty()) part.push_back(before);
    if (!after.empty()) part.push_back(after);
  }
  return part;
}

Intervals gaps(const Intervals& intervals, Interval window) {
  Intervals free;
  Instant reached = window.from;
  for (const Interval& one : within(intervals, window)) {
    if (reached < one.from) free.push_back({reached, one.from});
    reached = one.to;
  }
  if (reached < window.to) free.push_back({reached, window.to});
  return free;
}

std::chrono::seconds total(const Intervals& intervals) {
  std::chrono::seconds sum{};
  for (const Interval& one : intervals) sum += one.to - one.from;
  return sum;
}

}  // namespace cellarer::duty
