// SPDX-License-Identifier: MIT
#pragma once
#include <array>

#include "model/life/learning.hpp"
#include "model/life/set_story.hpp"

namespace cellarer::life {

/// What one ended set teaches, where it can: a fresh set of known type, with unit and settings known, at home, ended by
/// a change that says how (a fault teaches nothing), within one unit, and with readings that tell one story.
/// `last_lesson`: when the set before it ended, of either side; moved forward.
void teach(Learning& learning, const Household& household, Side side, const Stint& stint, LoadTables& tables,
           std::optional<Instant>& last_lesson);

/// The same in its halves, for those who have followed the set while it ran: whether it may teach, and that it has.
bool may_teach(const Household& household, Side side, const Stint& stint);
void take_lesson(Learning& learning, const Course& course, const cell::Profile& cell, const SetStory& story,
                 Instant ended, std::optional<Instant>& last_lesson);

/// All ended sets of both sides, by when they ended: what the left side learns of the household, the right one knows.
/// The whole anew; who forecasts one household again and again keeps a `Learned` (learned.hpp).
Learning learn_from(const Household& household, const std::array<std::vector<Stint>, 2>& sides, LoadTables& tables);

}  // namespace cellarer::life
