// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>
#include <map>
#include <optional>
#include <utility>
#include <vector>

#include "tests/bench/sides.hpp"
#include "tests/bench/world/duty_truth.hpp"
#include "tests/bench/world/world.hpp"

/// What really goes on in one household, whatever anyone forecasts or does: its days, its units, its sets.
namespace cellarer::bench {

/// One set as it is, before it is put anywhere. Drawn from (seed, household, side, number).
struct SetTruth {
  std::size_t brand = 0;    ///< of World::brands
  double log_capacity = 0;  ///< about the brand's truth: lot, set, dud, storage
  double log_use = 0;       ///< the set's own part
  double gauge_bias = 0;    ///< the set's own part [points]
  bool dud = false;
  double stored_years = 0;
  int lot = 0;
};

/// A set's course from the moment it goes in, if it stays in.
struct SetCourse {
  Side side = Side::left;
  int number = 0;  ///< of this side, from 0
  SetTruth set;
  Instant in;
  Instant cutoff;                        ///< true moment of cut-off (the end of the calendar where it never comes)
  std::optional<Instant> warning;        ///< the unit's warning first sounds
  std::optional<Instant> failure;        ///< sudden, before cut-off
  double charge_to_cutoff_mAh = 0;       ///< given by then, per cell
  double charge_at_profile_use_mAh = 0;  ///< the same, did it draw what the profile says from its first day on
  double lasting_log_use = 0;            ///< of side, unit's channel and set when it goes in; without drift and days
  double lasting_gauge_bias = 0;         ///< the same of channel and set [points], without wander
  std::size_t first_evening = 0;         ///< index of the first changing time after `in`

  /// At a changing time, from `first_evening` on, while the set still runs.
  struct At {
    double charge_mAh;  ///< given by each cell
    double set_V;       ///< true, in the condition of that time
    double shown;       ///< by the gauge, in percent, before clipping, steps and mistakes
    bool pacing;        ///< else idle
  };
  std::vector<At> evenings;

  /// Given by each cell at any moment: straight lines between changing times.
  double charge_at(Instant at, const std::vector<Instant>& changing_times) const;
};

/// One side's departure from the profile on one day, by the index of the day since the first evening.
struct DayTruth {
  double log_use = 0;  ///< household, side, drift and day; without the unit's channel and the set
  double wander = 0;   ///< of the gauge [points]; without the biases of the unit and the set
};

class HouseholdTruth {
 public:
  HouseholdTruth(const World& world, std::uint64_t seed, std::size_t household);

  const World& world() const { return *world_; }
  std::uint64_t seed() const { return seed_; }
  std::size_t household() const { return household_; }
  const std::vector<Instant>& evenings() const { return duty_.changing_times; }
  const DutyTruth& duty() const { return duty_; }
  ReadingHabit habit() const { return habit_; }
  double burst_share() const { return burst_share_; }  ///< of the world
  double side_log_use(Side side) const { return side_log_use_[index_of(side)]; }
  const std::vector<DayTruth>& days(Side side) const { return days_[index_of(side)]; }

  SetTruth set(Side side, int number) const;
  /// Not thread-safe: tables are made as they are needed.
  SetCourse course(Side side, int number, Instant in) const;

 private:
  struct Channel {
    double log_use, bias, exponent;
  };
  struct Table {
    LoadTable load;
    double cutoff_hours;
  };

  const World* world_;
  std::uint64_t seed_;
  std::size_t household_;
  double burst_share_;
  ReadingHabit habit_ = ReadingHabit::daily;
  DutyTruth duty_;
  std::array<double, 2> side_log_use_{};
  std::array<std::array<Channel, 2>, 2> channels_{};  ///< of two units
  std::array<std::vector<DayTruth>, 2> days_;
  std::array<std::vector<Instant>, 2> failures_;
  mutable std::map<std::array<std::size_t, 4>, Table> tables_;  ///< by brand, side, unit, settings (standby: last)

  void draw_days(Side side);
  const Table& table(std::size_t brand, Side side, const DutyStretch& stretch) const;
  class Walk;
};

}  // namespace cellarer::bench
