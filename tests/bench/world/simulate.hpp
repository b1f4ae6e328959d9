// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>
#include <span>

#include "tests/bench/events.hpp"
#include "tests/bench/world/household_truth.hpp"
#include "tests/bench/world/world.hpp"

namespace cellarer::bench {

/// A forecaster that may look behind the curtain (an oracle; ours and the best possible where they are told the truth
/// of one thing): implements this beside `Forecaster`, and is told of every set that really goes in.
class TruthWatcher {
 public:
  virtual ~TruthWatcher() = default;
  /// `course` holds until the side's next call.
  virtual void set_in(Side side, const SetCourse& course) = 0;
};

/// One household, both sides, `spec.nights` long. The records are told to `decider`'s forecaster and to those of
/// `told`; only the first is obeyed. Order on an evening: what ended since the last one, with its records; the
/// evening's readings; the advice; `observer.evening`; the change. Deterministic in (seed, household); the truth of
/// side, set number and day is the same whatever the forecaster, so that forecasters can be compared pair by pair.
/// Thread-safe: households may be spread over threads, with an observer each.
void simulate(const World& world, std::uint64_t seed, std::size_t household, const MakeForecaster& decider,
              std::span<const MakeForecaster> told, Observer& observer);

}  // namespace cellarer::bench
