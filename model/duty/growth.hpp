// SPDX-License-Identifier: MIT
#pragma once
#include "model/duty/intervals.hpp"
#include "model/duty/settings.hpp"

/// Spans of pacing that grow week by week, while the muscle of a wearer is being conditioned.
///
///     hours of a day in week k:   min(h_0 + k g, h_max),   k = whole weeks since the growth began, from 0
///
///   h_0    what the spans of that weekday come to      g    growth a week      h_max    the limit a day
///
/// Every span grows at its end, all of a day in equal parts (whole minutes, the first spans take the odd ones); a span
/// that reaches the next one stands still and the others take its part. A weekday without spans stays without.
namespace cellarer::duty {

/// The spans after so many weeks, 0 or more.
std::vector<PacedSpan> grown_spans(const std::vector<PacedSpan>& spans, const Growth& growth, int weeks);

/// What the spans of one weekday come to, 0 is Monday; overlapping ones are one.
std::chrono::minutes paced_of_day(const std::vector<PacedSpan>& spans, std::size_t weekday);

/// As paced_by_settings (paced_hours.hpp), with the growth of these settings. A week begins at the wall-clock time at
/// which the growth began, in the middle of a span too.
Intervals paced_by_growing(const Settings& settings, Zone zone, Interval window);

}  // namespace cellarer::duty
