// SPDX-License-Identifier: MIT
#pragma once
#include "model/duty/intervals.hpp"
#include "model/duty/settings.hpp"

/// When a side paced: what the settings say, and what was done instead.
namespace cellarer::duty {

/// The times within `window` at which these settings pace, by the zone's wall clock (see wall_clock.hpp for
/// hours that do not exist or come twice). No spans at all: the whole window.
Intervals paced_by_settings(const std::vector<PacedSpan>& spans, Zone zone, Interval window);

/// `by_settings` with the hours actually paced put in their place, within `window`.
///
/// `hours_per_day` of 24 is the whole time. Any other number says how long but not when, so each day of
/// the entry (counted by the wall clock from its start; the last may be a part, with its part of the
/// hours) keeps the pattern of the settings: every pause shrinks in one proportion, or every span does,
/// about its middle, until the hours are right. Where the settings give no pattern (pacing all day, or
/// not at all) the hours stand as one block in the middle of that day. The charge is right over every
/// day of the entry; within a day it is an assumption.
///
/// At each moment the entry that began last counts; one without an end holds until the next entry begins.
///
/// `more` says "at least": a day that is paced for longer anyway keeps its pattern, and one without an end holds for
/// all of the future. What was done instead and began later (or then) counts before it: somebody said so.
Intervals paced_in_fact(Intervals by_settings, const std::vector<PacedInstead>& instead,
                        const std::vector<PacedMore>& more, Zone zone, Interval window);

}  // namespace cellarer::duty
