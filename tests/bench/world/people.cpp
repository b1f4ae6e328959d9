// SPDX-License-Identifier: MIT
#include "tests/bench/world/people.hpp"

#include <algorithm>
#include <cmath>

#include "tests/bench/sides.hpp"

namespace cellarer::bench {

namespace {

using namespace std::chrono_literals;

constexpr auto to_next_morning = 10h;
constexpr double years_to_expiry = 10;

int days_between_readings(ReadingHabit habit, int set_number) {
  switch (habit) {
    case ReadingHabit::daily:
      return 1;
    case ReadingHabit::every_third_day:
      return 3;
    case ReadingHabit::as_they_trust:
      if (set_number < 2) return 1;
      if (set_number < 5) return 3;
      return set_number < 10 ? 7 : 14;
    case ReadingHabit::never:
      break;
  }
  return 0;
}

}  // namespace

bool People::cannot_change(std::size_t evening) const {
  return spec_.people.missed > 0 && draws(What::missed, 2, evening).happens(spec_.people.missed);
}

bool People::change_early(Side side, std::size_t evening) const {
  const double probability = spec_.people.early_a_year / 365 / static_cast<double>(spec_.changing_times.size());
  return probability > 0 && draws(What::early, index_of(side), evening).happens(probability);
}

bool People::hear_warning(Side side, int set_number) const {
  const auto number = static_cast<std::uint64_t>(set_number);
  return draws(What::heard, index_of(side), number).happens(spec_.people.warning_heeded);
}

bool People::read(std::size_t evening, int set_number) const {
  const auto times_a_day = spec_.changing_times.size();
  const auto every = static_cast<std::size_t>(days_between_readings(truth_.habit(), set_number));
  return every > 0 && evening % (every * times_a_day) == 0;
}

Instant People::reads_at(std::size_t evening) const { return truth_.evenings()[evening] - 1min; }

void People::note_reading(Mailbag& bag, const SetCourse& course, std::size_t evening) const {
  const auto& now = course.evenings[evening - course.first_evening];
  Draws own = draws(What::reading, index_of(course.side), evening);
  double percent = now.shown;
  if (spec_.unit.mistake_probability > 0 && own.happens(spec_.unit.mistake_probability)) percent = own.uniform(0, 100);
  life::Reading reading;
  reading.at = reading.recorded_at = reads_at(evening);
  if (spec_.people.next_morning > 0 && own.happens(spec_.people.next_morning)) reading.recorded_at += to_next_morning;
  reading.side = course.side;
  reading.condition = now.pacing ? life::Condition::pacing : life::Condition::idle;
  percent = std::clamp(percent, 0.0, 100.0);
  if (spec_.unit.gauge_steps == 0) {
    reading.value = life::PercentShown{std::round(percent)};
  } else {
    const int of = spec_.unit.gauge_steps;
    reading.value = life::StepShown{std::clamp(static_cast<int>(std::ceil(0.01 * percent * of)), 0, of), of};
  }
  bag.put(reading.recorded_at, reading);
}

life::CellSet People::cells_of(const SetCourse& course, Draws& draws) const {
  life::CellSet cells;
  cells.profile = truth_.world().brands()[course.set.brand].id;
  cells.lot = "lot " + std::to_string(course.set.lot + 1);
  if (draws.happens(spec_.cells.expiry_recorded)) {
    const auto left = std::chrono::hours(std::lround((years_to_expiry - course.set.stored_years) * 365.25 * 24));
    const std::chrono::year_month_day day(std::chrono::floor<std::chrono::days>(course.in + left));
    cells.expires = day.year() / day.month();
  }
  return cells;
}

Recording People::note_change(Mailbag& bag, const SetCourse& course, life::ChangeReason reason) const {
  Draws own = draws(What::change, index_of(course.side), static_cast<std::uint64_t>(course.number));
  life::CellChange change;
  change.at = change.recorded_at = course.in;
  change.side = course.side;
  change.reason = reason;
  change.cells = cells_of(course, own);
  const bool late = own.happens(spec_.people.next_morning);
  const double kind = own.uniform();
  const auto hours_later = std::chrono::minutes(std::lround(own.uniform(60, 20 * 60)));
  const auto& people = spec_.people;
  if (reason != life::ChangeReason::planned || course.number == 0) {
    bag.put(change.recorded_at, change);
    return Recording::as_it_was;
  }
  if (late) change.recorded_at += to_next_morning;
  if (kind < people.never) return Recording::never;
  if (kind < people.never + people.wrong_side) {
    change.side = other(course.side);
    bag.put(change.recorded_at, change);
    return Recording::wrong_side;
  }
  bag.put(change.recorded_at, change);
  if (kind >= people.never + people.wrong_side + people.twice) return Recording::as_it_was;
  change.at += hours_later;
  change.recorded_at = std::max(change.recorded_at, change.at);
  bag.put(change.recorded_at, change);
  return Recording::twice;
}

}  // namespace cellarer::bench
