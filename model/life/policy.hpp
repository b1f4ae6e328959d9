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
///   may wait(k)   at changing time k: P(T[k + 1]) <= limit  and  m P(T[k + 2]) <= limit with a missed time
///   m             the probability that the household misses the next time. Not more than one in a row: after a missed
///                 `change by` the page says "change now", which is another situation than an evening on which nothing
///                 seemed due.
///   change by     the first changing time at which waiting is not acceptable
///   no later than the last changing time with P(T) <= limit / m: one missed time is forgiven until then
///
/// Two limits, because the two ways to run out are not alike: with times kept only the forecast stands between a side
/// and its end; when a time was missed the page has said "change now" for a day, and the unit's own warning comes
/// before the end. What each costs is measured by the field trial (tests/bench).
struct ChangePlan {
  Instant change_by;
  Instant no_later_than;
};

/// Whether a side may wait at a changing time, from the probabilities of cut-off by the next one and by the one after.
bool may_wait(double by_next, double by_next_but_one, const Policy& policy);

/// `times`: the changing times from the first one after the set went in, to beyond the course's end or to where
/// cut-off is certain. The set's first changing time is the earliest answer: advice cannot lie before its set.
/// Precondition: at least three times.
ChangePlan plan_change(const CrossingDistribution& cutoff, const Course& course, const std::vector<Instant>& times,
                       const Policy& policy);

/// The nights from the one that runs at `as_of`, until cut-off is all but certain or `at_most`.
std::vector<Night> nights_ahead(const CrossingDistribution& cutoff, const Course& course, const Household& household,
                                Instant as_of, Instant change_by, std::size_t at_most);

}  // namespace cellarer::life
