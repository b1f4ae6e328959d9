// SPDX-License-Identifier: MIT
#pragma once
#include "tests/bench/world/household_truth.hpp"

/// One set integrated breath by breath, against the tables that the world runs on: the same cells and electronics, with
/// what the average leaves out. Bursts and rests in turn, each with the converter's draw at its own voltage; and, where
/// asked for, a slow current that is a state of its own (first order, 30 minutes, from nought).
namespace cellarer::bench {

/// One fresh set under steady pacing.
struct PacingSet {
  const DischargeTable* cell = nullptr;
  duty::Stimulator unit;
  TrueLoad load;
  double burst_share = 0.4;
  double use = 1;
  double capacity = 1;  ///< factor of this set
  double rate_per_min = 12;
};

/// Hours of pacing to cut-off, by the tables.
double hours_by_table(const PacingSet& set);

/// The same, breath by breath: some 0.2 million breaths a set, a tenth of a second.
double hours_breath_by_breath(const PacingSet& set, bool slow_state);

/// How far the two are apart over the first sets of some households of a world: breath by breath / tables - 1.
struct BreathSample {
  double mean = 0, largest = 0;            ///< on average, with its sign; at most, without
  double mean_slow = 0, largest_slow = 0;  ///< the same with the slow current
};
BreathSample compare_breath_by_breath(const World& world, std::uint64_t seed, int sets);

}  // namespace cellarer::bench
