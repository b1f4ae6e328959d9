// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>
#include <optional>
#include <vector>

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
  Instant cutoff;                   ///< true moment of cut-off (the end of the calendar where it never comes)
  std::optional<Instant> warning;   ///< the unit's warning first sounds
  std::optional<Instant> failure;   ///< sudden, before cut-off
  double charge_to_cutoff_mAh = 0;  ///< given by then, per cell
  std::size_t first_evening = 0;    ///< index of the first changing time after `in`
  std::vector<double> charge_mAh;   ///< given by each changing time from that one on
  std::vector<double> set_V;        ///< true voltage then, in the condition of that time
  std::vector<double> shown;        ///< gauge then, in percent, before clipping, steps and mistakes
};

/// One side's log use of a day and its gauge's error, and what people do that day. Index: days since the first evening.
struct DayTruth {
  double log_use = 0;      ///< household, side, channel, drift and day; without the set
  double gauge_error = 0;  ///< unit's bias and wander [points]; without the set
};

class HouseholdTruth {
 public:
  HouseholdTruth(const World& world, std::uint64_t seed, std::size_t household);

  const World& world() const { return *world_; }
  std::size_t household() const { return household_; }
  /// Changing times from the first evening on, beyond the last night by three lives of a set.
  const std::vector<Instant>& evenings() const { return evenings_; }
  ReadingHabit habit() const { return habit_; }
  double burst_share() const { return burst_share_; }  ///< of the world
  double side_log_use(Side side) const;                ///< household + side: what holds for all sets
  double channel_log_use(std::size_t unit, Side side) const;
  double channel_bias(std::size_t unit, Side side) const;

  SetTruth set(Side side, int number) const;
  SetCourse course(Side side, int number, Instant in) const;
  const std::vector<DayTruth>& days(Side side) const;

  /// What is told of the duty, as it becomes known: settings, spells, swaps, each with the moment of recording.
  struct ToldDuty {
    std::vector<duty::Settings> settings;  ///< at their `from`
    std::vector<std::pair<Instant, duty::PacedInstead>> paced_instead;
    std::vector<life::UnitInUse> units;  ///< at their `from`
  };
  const ToldDuty& told() const { return told_; }

 private:
  struct Stretch;
  const World* world_;
  std::uint64_t seed_;
  std::size_t household_;
  std::vector<Instant> evenings_;
  ReadingHabit habit_ = ReadingHabit::daily;
  double burst_share_ = 0.4;
  ToldDuty told_;
};

}  // namespace cellarer::bench
