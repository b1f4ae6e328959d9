// SPDX-License-Identifier: MIT
#include "model/life/lessons.hpp"

#include <algorithm>

#include "model/life/learned.hpp"
#include "model/life/planned.hpp"

namespace cellarer::life {

namespace {

void pass_time_until(Learning& learning, Instant moment, std::optional<Instant>& last_lesson) {
  if (last_lesson) learning.pass_time(std::max(hours_between(*last_lesson, moment), 0.0) / 24);
  last_lesson = std::max(last_lesson.value_or(moment), moment);
}

}  // namespace

bool may_teach(const Household& household, Side side, const Stint& stint) {
  const bool known_set = stint.out && stint.out->reason != ChangeReason::fault &&
                         stint.in.cells.age == CellAge::fresh && stint.in.cells.profile && !stint.in.cells.set_id &&
                         stint.out->at > stint.in.at;
  if (!known_set) return false;
  const auto unit = unit_in_use(household, stint.in.at);
  const auto settings = settings_of(household, side);
  // Before the first unit or settings were written down, the load is a guess: good enough to warn, not to teach.
  const bool load_known = unit && !settings.empty() && settings.front().from <= stint.in.at;
  if (!load_known || cells_in_side(household, stint.in.cells).profile == nullptr) return false;
  if (in_hospital_during(household, stint.in.at, stint.out->at)) return false;
  // Which of two units a set's use and readings belong to cannot be told.
  return unit_in_use(household, stint.out->at - std::chrono::seconds(1)) == unit;
}

void take_lesson(Learning& learning, const Course& course, const cell::Profile& cell, const SetStory& story,
                 Instant ended, std::optional<Instant>& last_lesson) {
  pass_time_until(learning, ended, last_lesson);
  // A set whose readings tell two stories (an unrecorded change, perhaps) would teach nonsense. A reading far below
  // what was expected may be a slip, one cell's voltage for two: in doubt nobody's next set is taken to last longer by
  // it.
  const auto &before = story.prior.belief.mean, &after = story.lesson.belief.mean;
  const bool lasts_longer = after[row_use] < before[row_use] || after[row_capacity] > before[row_capacity];
  if (story.agrees && !(story.far_below && lasts_longer))
    learning.learn(course, cell, story.prior, story.lesson, ended);
}

void teach(Learning& learning, const Household& household, Side side, const Stint& stint, LoadTables& tables,
           std::optional<Instant>& last_lesson) {
  if (!may_teach(household, side, stint)) return;
  const Course course(household, side, stint.in.at, stint.out->at);
  if (course.charge_mAh(course.to()) <= 0) return;
  const auto& cell = *cells_in_side(household, stint.in.cells).profile;
  // What the set is held against has drifted until then too.
  pass_time_until(learning, stint.out->at, last_lesson);
  SetStorySetup setup;
  setup.course = &course;
  setup.cell = &cell;
  setup.tables = &tables;
  setup.prior = learning.prior(course, cell, storage(stint.in.cells.expires, stint.in.at).log_sd);
  take_lesson(learning, course, cell, follow(setup, stint), stint.out->at, last_lesson);
}

Learning learn_from(const Household& household, const std::array<std::vector<Stint>, 2>& sides, LoadTables& tables) {
  Learned learned;
  return learned.up_to(household, sides, tables);
}

}  // namespace cellarer::life
