// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>
#include <vector>

#include "tests/bench/report/progress.hpp"
#include "tests/bench/trial/scores.hpp"
#include "tests/bench/world/world.hpp"

namespace cellarer::bench {

/// Households of one world under one decider, with forecasters that are told along.
struct Run {
  const World* world = nullptr;
  std::uint64_t seed = 1;
  std::size_t households = 1;
  MakeForecaster decider;
  std::vector<MakeForecaster> told;
  ScoreAsked asked;
};

/// Of both sides.
double side_nights_of(std::size_t households, int nights);

/// Spreads the households over the machine's cores in parts of fixed size and merges the parts in order: the same
/// figures to the last bit on any number of cores. Reports each part done as its share of side-nights.
Scores run(const Run& run, Progress& progress);

}  // namespace cellarer::bench
