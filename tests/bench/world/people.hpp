// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>

#include "tests/bench/world/draws.hpp"
#include "tests/bench/world/household_truth.hpp"
#include "tests/bench/world/mailbag.hpp"

/// What the people of one household do and write down.
namespace cellarer::bench {

/// How a change came to be written down.
enum class Recording { as_it_was, wrong_side, twice, never };

class People {
 public:
  explicit People(const HouseholdTruth& truth) : truth_(truth), spec_(truth.world().spec()) {}

  /// What happens to them, the same whatever the forecaster says.
  bool cannot_change(std::size_t evening) const;
  bool change_early(Side side, std::size_t evening) const;
  bool hear_warning(Side side, int set_number) const;
  bool read(std::size_t evening, int set_number) const;  ///< by their habit

  /// When they look at the gauges on an evening: just before the changing time, so at cells that are in by then.
  Instant reads_at(std::size_t evening) const;
  /// Writes the reading of an evening into the bag.
  void note_reading(Mailbag& bag, const SetCourse& course, std::size_t evening) const;
  /// Writes the set down that has just gone in at `at`, and says how. A change that nobody planned (warning, run-out,
  /// fault) is always written down as it was.
  Recording note_change(Mailbag& bag, const SetCourse& course, life::ChangeReason reason) const;

 private:
  const HouseholdTruth& truth_;
  const WorldSpec& spec_;

  enum class What : std::uint64_t { missed, early, heard, reading, change };
  Draws draws(What what, std::uint64_t side, std::uint64_t number) const {
    return {Stream::people, {truth_.seed(), truth_.household(), static_cast<std::uint64_t>(what), side, number}};
  }
  life::CellSet cells_of(const SetCourse& course, Draws& draws) const;
};

}  // namespace cellarer::bench
