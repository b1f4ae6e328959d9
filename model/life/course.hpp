// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <vector>

#include "model/duty/timeline.hpp"
#include "model/life/forecast.hpp"

namespace cellarer::life {

/// A part of a set's time in a side with one unit and one group of settings.
struct Phase {
  double charge_from_mAh = 0;              ///< reference charge drawn before it, since the set went in
  const duty::Stimulator* unit = nullptr;  ///< of the household's records, which outlive the course
  std::size_t unit_index = 0;
  duty::BreathLoad pacing;  ///< while pacing
};

/// The reference charge that a set's side draws from a moment on, by the records and by what is planned:
/// when it is drawn, and with which unit and settings.
class Course {
 public:
  /// What stands in the records first is taken to have held before: a unit or settings that were written down after
  /// the cells went in did not begin to draw on that day. Precondition: there is a unit.
  Course(const Household& household, Side side, Instant from, Instant to);

  /// The same course from a later moment on, charge counted anew. Precondition: from() <= `later` < to().
  Course cut_from(Instant later) const;

  Side side() const { return side_; }
  Instant from() const { return from_; }
  Instant to() const { return to_; }
  double charge_mAh(Instant at) const { return clock_.charge_mAh(at); }
  /// When that much has been drawn; the course's end if it never is.
  Instant when(double charge_mAh) const { return clock_.when(charge_mAh); }
  const std::vector<Phase>& phases() const { return phases_; }
  std::size_t phase_at(double charge_mAh) const;
  const std::vector<duty::Stretch>& stretches() const { return clock_.stretches(); }
  /// Mean reference charge a day over the week after `at` (or what the course has of it) [mAh].
  double charge_per_day_mAh(Instant at) const;

 private:
  Side side_;
  Instant from_, to_;
  std::vector<Phase> phases_;
  duty::ChargeClock clock_;

  std::vector<duty::Stretch> stretches_of(const Household& household);
};

/// Index of the unit in use at a moment, or none before the first.
std::optional<std::size_t> unit_in_use(const Household& household, Instant at);

/// The side's settings by time, and which are in force at a moment, or none.
std::vector<duty::Settings> settings_of(const Household& household, Side side);

}  // namespace cellarer::life
