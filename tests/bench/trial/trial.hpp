// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>
#include <filesystem>
#include <string>

#include "tests/bench/peers/given_truth.hpp"
#include "tests/bench/trial/results.hpp"
#include "tests/bench/trial/run.hpp"

namespace cellarer::bench {

/// Who is tried.
struct Contestants {
  MakeForecaster ours;  ///< as it ships
  /// Ours given the truth of one thing.
  struct Given {
    GivenTruth truth;
    MakeForecaster make;
  };
  std::vector<Given> given;
};

struct TrialSize {
  std::uint64_t seed = 1;
  std::size_t households = 2080;  ///< of each run of the reference world; the other runs are parts of it
  std::filesystem::path cells_folder;
};

/// Side-nights that a trial of this size will simulate, for the progress bar.
double work_of(const TrialSize& size);

/// The whole trial. Each run has a seed of its own, made from the size's.
TrialResults try_out(const Contestants& contestants, const TrialSize& size, Progress& progress);

/// The part of it in which limits are swept, and its side-nights.
std::vector<Sweep> try_sweeps(const Contestants& contestants, const TrialSize& size, Progress& progress);
double work_of_sweeps(const TrialSize& size);

/// The part that splits the gap to the best possible.
std::vector<Split> try_splits(const Contestants& contestants, const TrialSize& size, Progress& progress);
double work_of_splits(const TrialSize& size);

/// The part that shows what a plan is worth.
std::vector<NamedRun> try_plans(const Contestants& contestants, const TrialSize& size, Progress& progress);
double work_of_plans(const TrialSize& size);

Curve one_n_over(const std::vector<Sweep>& sweeps);

/// A run in which each set stays in until the best possible, which heeds the coming night alone, sees this risk of it;
/// ours is told along.
Run late_run(const World& world, std::uint64_t seed, std::size_t households, double limit,
             const Contestants& contestants);

/// As the slices of scores name it; nought steps are per cent.
std::string gauge_name(int steps);

/// How many households a part has: this share of the size, at least two.
std::size_t part_of(const TrialSize& size, double share);

}  // namespace cellarer::bench
