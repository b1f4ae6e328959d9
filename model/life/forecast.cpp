// SPDX-License-Identifier: MIT
#include "model/life/forecast.hpp"

#include <algorithm>
#include <cassert>

#include "model/life/calendar.hpp"
#include "model/life/planned.hpp"
#include "model/life/side_forecast.hpp"

namespace cellarer::life {

namespace {

/// A set that has ended, as a lesson.
struct Lesson {
  Side side;
  const Stint* stint;
};

bool teaches(const Stint& stint) {
  return stint.out && stint.out->reason != ChangeReason::fault && stint.in.cells.age == CellAge::fresh &&
         stint.in.cells.profile && !stint.in.cells.set_id && stint.out->at > stint.in.at;
}

/// Ended sets of both sides by when they ended: what the left side learns of the household, the right one knows.
std::vector<Lesson> lessons(const std::array<std::vector<Stint>, 2>& sides) {
  std::vector<Lesson> all;
  for (const auto side : both_sides) {
    for (const auto& stint : sides[side == Side::left ? 0 : 1]) {
      if (teaches(stint)) all.push_back({side, &stint});
    }
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const Lesson& a, const Lesson& b) { return a.stint->out->at < b.stint->out->at; });
  return all;
}

Learning learn(const Household& household, const std::array<std::vector<Stint>, 2>& sides) {
  Learning learning(household.units);
  std::optional<Instant> learned_until;
  for (const auto& [side, stint] : lessons(sides)) {
    const auto unit = unit_in_use(household, stint->in.at);
    const auto cells = cells_in_side(household, stint->in.cells);
    const auto settings = settings_of(household, side);
    // Before the first unit or settings were written down, the load is a guess: good enough to warn, not to teach.
    const bool load_known = unit && !settings.empty() && settings.front().from <= stint->in.at;
    if (!load_known || cells.profile == nullptr) continue;
    if (in_hospital_during(household, stint->in.at, stint->out->at)) continue;
    const Course course(household, side, stint->in.at, stint->out->at);
    if (course.charge_mAh(course.to()) <= 0) continue;
    if (learned_until) learning.pass_time(hours_between(*learned_until, stint->out->at) / 24);
    learned_until = stint->out->at;
    const auto prior = learning.prior(side, *unit);
    SetStorySetup setup;
    setup.course = &course;
    setup.cell = cells.profile;
    setup.prior = prior;
    setup.grid = coarse_grid;
    setup.lesson_only = true;
    const auto story = follow(setup, *stint);
    // A set whose readings tell two stories (an unrecorded change, perhaps) would teach nonsense.
    if (story.agrees) learning.learn(side, *unit, prior, story.moments);
  }
  return learning;
}

}  // namespace

HouseholdForecast forecast(const Household& household, Instant as_of) {
  assert(household.zone != nullptr && !household.changing_times.empty());
  HouseholdForecast result;
  result.as_of = as_of;
  const auto times = changing_times(household, as_of, as_of + std::chrono::hours(1));
  result.next_changing_time = times.front() == as_of ? as_of : times[1];
  const std::array<std::vector<Stint>, 2> sides{stints(household, Side::left, as_of),
                                                stints(household, Side::right, as_of)};
  const auto learning = learn(household, sides);
  for (const auto side : both_sides) {
    const std::size_t index = side == Side::left ? 0 : 1;
    result.sides[index] = side_forecast(household, side, as_of, learning, sides[index]);
  }
  return result;
}

}  // namespace cellarer::life
