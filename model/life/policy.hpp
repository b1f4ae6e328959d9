// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "model/life/course.hpp"
#include "model/life/crossing.hpp"
#include "model/life/forecast.hpp"

namespace cellarer::life {

/// When to change, given when cut-off may come.
///
///   P(T)          probability that cut-off is reached by the moment T
///   risk kept(k)  of not changing at changing time k: sum over j of (1 - m) m^j P(T[k + 1 + j]), m the probability of
///                 missing a changing time: the next one is kept with 1 - m, else the one after it, and so on
///   change by     the first changing time at which risk kept exceeds the limit
///   no later than the last changing time with P(T) <= limit / m: one missed time is forgiven until then, because
///                 missing it had probability m and the two together stay within the limit
struct ChangePlan {
  Instant change_by;
  Instant no_later_than;
};

/// `times`: the changing times from the first one after the set went in, to beyond the course's end or to where
/// cut-off is certain. The set's first changing time is the earliest answer: advice cannot lie before its set.
/// Precondition: at least ten times.
ChangePlan plan_change(const CrossingDistribution& cutoff, const Course& course, const std::vector<Instant>& times,
                       const Policy& policy);

/// The nights from the one that runs at `as_of`, until cut-off is all but certain or `at_most`.
std::vector<Night> nights_ahead(const CrossingDistribution& cutoff, const Course& course, Zone zone,
                                const std::vector<std::chrono::minutes>& changing_times_of_day, Instant as_of,
                                Instant change_by, std::size_t at_most);

}  // namespace cellarer::life
