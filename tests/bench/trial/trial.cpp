// SPDX-License-Identifier: MIT
#include "tests/bench/trial/trial.hpp"

#include <algorithm>
#include <array>
#include <chrono>

#include "tests/bench/peers/best_possible.hpp"
#include "tests/bench/peers/oracle.hpp"
#include "tests/bench/peers/rules.hpp"
#include "tests/bench/world/household_truth.hpp"

namespace cellarer::bench {

namespace {

/// Shares of the size, nights and seeds of the parts.
constexpr double other_gauges_share = 1.0 / 16, field_share = 1.0 / 8, rules_share = 1.0 / 8;
constexpr int field_nights = 200;
constexpr double missed = 0.05;

/// What the parts go through.
constexpr std::array reference_misses{0.0, missed};
constexpr std::array reference_steps{0, 5}, other_steps{3, 10};
constexpr std::array field_steps{0, 3, 5, 10};
struct Rule {
  const char* name;
  MakeForecaster make;
  double warning_heeded = 0;  ///< as ours; but for the one rule that there is nothing else to
};
std::array<Rule, 5> rules() {
  return {{{"oracle: the last evening before cut-off", oracle()},
           {"every 7 days", every_n_days(7)},
           {"every 10 days", every_n_days(10)},
           {"at the lowest step, or below 20 %", at_the_lowest_step()},
           {"at the unit's warning, 95 % heeded", at_the_warning(), 0.95}}};
}

/// Of the run with the percent gauge and times kept; the next one is that of five steps.
std::uint64_t first_reference_seed(const TrialSize& size) { return 10 * size.seed + 1; }

/// One world, one decider, its belief scored.
NamedRun decided(WorldSpec spec, const TrialSize& size, std::size_t households, std::uint64_t seed,
                 const MakeForecaster& decider, double coverage_sample, Progress& progress) {
  progress.now(spec.name);
  const int steps = spec.unit.gauge_steps;
  const bool misses = spec.people.missed > 0;
  const std::string name = spec.name;
  spec.seed = seed;
  const World world(std::move(spec), size.cells_folder);
  Run one;
  one.world = &world;
  one.seed = seed;
  one.households = households;
  one.decider = decider;
  one.asked.gauge = gauge_name(steps);
  one.asked.sampling = {coverage_sample, 0};
  if (coverage_sample > 0) one.asked.beliefs = {0};
  return {name, misses, run(one, progress)};
}

std::vector<NamedRun> try_reference(const Contestants& contestants, const TrialSize& size, Progress& progress) {
  std::vector<NamedRun> runs;
  std::uint64_t seed = first_reference_seed(size);
  for (const double misses : reference_misses) {
    for (const int steps : reference_steps) {
      // Beliefs are the same whether times are kept or not: scored where they are kept.
      const double sample = misses > 0 ? 0 : 0.06;
      runs.push_back(
          decided(reference_world(steps, misses), size, part_of(size, 1), seed++, contestants.ours, sample, progress));
    }
  }
  return runs;
}

std::vector<NamedRun> try_other_gauges(const Contestants& contestants, const TrialSize& size, Progress& progress) {
  std::vector<NamedRun> runs;
  std::uint64_t seed = 10 * size.seed + 5;
  for (const int steps : other_steps) {
    runs.push_back(decided(reference_world(steps), size, part_of(size, other_gauges_share), seed++, contestants.ours,
                           0.5, progress));
  }
  return runs;
}

std::vector<NamedRun> try_field(const Contestants& contestants, const TrialSize& size, Progress& progress) {
  std::vector<NamedRun> runs;
  std::uint64_t seed = 1000 * size.seed;
  for (const int steps : field_steps) {
    auto spec = field_world(steps);
    spec.nights = field_nights;
    runs.push_back(decided(std::move(spec), size, part_of(size, field_share), ++seed, contestants.ours, 0.5, progress));
  }
  return runs;
}

std::vector<NamedRun> try_rules(const TrialSize& size, Progress& progress) {
  std::vector<NamedRun> runs;
  for (const auto& rule : rules()) {
    std::uint64_t seed = first_reference_seed(size);
    for (const int steps : reference_steps) {
      auto spec = reference_world(steps);
      spec.people.warning_heeded = rule.warning_heeded;
      runs.push_back(decided(std::move(spec), size, part_of(size, rules_share), seed++, rule.make, 0, progress));
      runs.back().name = std::string(rule.name) + ", " + gauge_name(steps);
    }
  }
  return runs;
}

}  // namespace

std::string gauge_name(int steps) { return steps == 0 ? "percent" : std::to_string(steps) + " steps"; }

std::size_t part_of(const TrialSize& size, double share) {
  return std::max<std::size_t>(2, static_cast<std::size_t>(share * static_cast<double>(size.households)));
}

Run late_run(const World& world, std::uint64_t seed, std::size_t households, double limit,
             const Contestants& contestants) {
  auto late = world.spec().policy;
  late.risk_limit = limit;
  late.miss_probability = 0;
  Run run;
  run.world = &world;
  run.seed = seed;
  run.households = households;
  run.decider = best_possible(world, HouseholdTruth(world, seed, 0).burst_share(), late);
  run.told = {contestants.ours};
  return run;
}

double work_of(const TrialSize& size) {
  const auto nights = [&](std::size_t runs, double share, int nights_each) {
    return static_cast<double>(runs) * side_nights_of(part_of(size, share), nights_each);
  };
  const int year = WorldSpec{}.nights;
  return nights(reference_misses.size() * reference_steps.size(), 1, year) +
         nights(other_steps.size(), other_gauges_share, year) + nights(field_steps.size(), field_share, field_nights) +
         nights(rules().size() * reference_steps.size(), rules_share, year) + work_of_sweeps(size) +
         work_of_splits(size) + work_of_plans(size);
}

TrialResults try_out(const Contestants& contestants, const TrialSize& size, Progress& progress) {
  const auto begun = std::chrono::steady_clock::now();
  TrialResults results;
  results.sweeps = try_sweeps(contestants, size, progress);
  results.splits = try_splits(contestants, size, progress);
  results.one_n_for_all = one_n_over(results.sweeps);
  results.rules = try_rules(size, progress);
  results.plans = try_plans(contestants, size, progress);
  results.field = try_field(contestants, size, progress);
  results.other_gauges = try_other_gauges(contestants, size, progress);
  results.reference = try_reference(contestants, size, progress);
  results.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - begun).count();
  return results;
}

}  // namespace cellarer::bench
