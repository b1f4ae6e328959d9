// SPDX-License-Identifier: MIT
#include <array>

#include "tests/bench/peers/best_possible.hpp"
#include "tests/bench/trial/trial.hpp"
#include "tests/bench/world/household_truth.hpp"

namespace cellarer::bench {

namespace {

constexpr double split_share = 1.0 / 16;
constexpr std::array split_steps{0, 5};
/// Each set stays in until the best possible that is given nothing sees this risk of the coming night: later than in
/// the sweeps, since whoever is given a truth would wait longer.
constexpr double later_limit = 0.1;

Split split(WorldSpec spec, const Contestants& contestants, const TrialSize& size, std::uint64_t seed,
            Progress& progress) {
  progress.now("what each truth is worth: " + spec.name);
  spec.seed = seed;
  const World world(spec, size.cells_folder);
  const double burst_share = HouseholdTruth(world, seed, 0).burst_share();
  auto one = late_run(world, seed, part_of(size, split_share), later_limit, contestants);
  for (const auto& given : contestants.given) {
    one.told.push_back(best_possible(world, burst_share, std::nullopt, given.truth));
    one.told.push_back(given.make);
  }
  one.asked.swept = 1 + one.told.size();
  for (std::size_t i = 0; i < one.asked.swept; ++i) one.asked.beliefs.push_back(i);
  one.asked.sampling = {0, 0.02};
  const auto scores = run(one, progress);
  Split result{spec.name, {}, at_equal_run_outs(*scores.sweep, 0, 1, 0, run_outs_to_count)};
  for (std::size_t pair = 0; pair <= contestants.given.size(); ++pair) {
    const std::size_t best = 2 * pair, ours = best + 1;
    const auto waste = [&](std::size_t forecaster) {
      return waste_at(over_limits(*scores.sweep, best, forecaster, 0, spec.policy.miss_probability),
                      run_outs_in_question);
    };
    const auto default_waste = [&](std::size_t forecaster) {
      return lay_over(*scores.sweep, best, by_policy(forecaster, spec.policy), spec.policy.risk_limit, 0).waste;
    };
    const auto given = pair == 0 ? GivenTruth::none : contestants.given[pair - 1].truth;
    result.rows.push_back({given, waste(ours), waste(best), scores.beliefs[ours].mean_crps_h(),
                           scores.beliefs[best].mean_crps_h(), default_waste(ours), default_waste(best)});
  }
  return result;
}

}  // namespace

double work_of_splits(const TrialSize& size) {
  return static_cast<double>(split_steps.size()) * side_nights_of(part_of(size, split_share), WorldSpec{}.nights);
}

std::vector<Split> try_splits(const Contestants& contestants, const TrialSize& size, Progress& progress) {
  std::vector<Split> splits;
  std::uint64_t seed = 100 * size.seed + 50;
  for (const int steps : split_steps)
    splits.push_back(split(reference_world(steps), contestants, size, ++seed, progress));
  return splits;
}

}  // namespace cellarer::bench
