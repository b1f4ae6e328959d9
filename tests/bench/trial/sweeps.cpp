// SPDX-License-Identifier: MIT
#include <array>
#include <cmath>

#include "tests/bench/trial/trial.hpp"

namespace cellarer::bench {

namespace {

constexpr double sweep_share = 1.0 / 16;
constexpr int sweep_count = 5;  ///< in try_sweeps
/// Each set stays in until the best possible forecaster sees this risk of the coming night: beyond what is asked.
constexpr double late_limit = 0.02;
/// Forecasters of a run, in the order in which they are told.
enum Told : std::size_t { best, ours };

Curve curve_of(const std::string& name, const SweepRecord& record, std::size_t forecaster, const life::Policy& policy) {
  const double m = policy.miss_probability;
  return {name, over_limits(record, best, forecaster, 0, m), over_limits(record, best, forecaster, m, m),
          lay_over(record, best, by_policy(forecaster, policy), policy.risk_limit, m)};
}

Curve tuned_days_over(const SweepRecord& record, const life::Policy& policy) {
  Curve curve{"one N a side", {}, {}, {}};
  for (int step = 0; step < 12; ++step) {
    const double margin = 0.02 + 0.03 * step;
    curve.frontier.push_back(lay_over(record, best, after_tuned_days(record, margin), margin, policy.miss_probability));
  }
  return curve;
}

Sweep sweep(WorldSpec spec, const Contestants& contestants, const TrialSize& size, std::uint64_t seed,
            Progress& progress) {
  progress.now("sweep: " + spec.name);
  spec.seed = seed;
  const World world(spec, size.cells_folder);
  auto one = late_run(world, seed, part_of(size, sweep_share), late_limit, contestants);
  one.asked.gauge = gauge_name(spec.unit.gauge_steps);
  one.asked.swept = 2;
  one.asked.beliefs = {best, ours};
  one.asked.sampling = {0.25, 0.04};
  auto scores = run(one, progress);
  const auto& record = *scores.sweep;
  auto our_curve = curve_of("ours", record, ours, spec.policy);
  auto best_curve = curve_of("best possible", record, best, spec.policy);
  auto tuned_days = tuned_days_over(record, spec.policy);
  return {spec.name,
          spec.set_life_days,
          std::move(*scores.sweep),
          std::move(our_curve),
          std::move(best_curve),
          std::move(tuned_days),
          std::move(scores.beliefs[ours]),
          std::move(scores.beliefs[best])};
}

}  // namespace

double work_of_sweeps(const TrialSize& size) {
  return sweep_count * side_nights_of(part_of(size, sweep_share), WorldSpec{}.nights);
}

std::vector<Sweep> try_sweeps(const Contestants& contestants, const TrialSize& size, Progress& progress) {
  std::vector<Sweep> sweeps;
  std::uint64_t seed = 100 * size.seed;
  for (const int steps : {0, 5}) {
    auto spec = reference_world(steps);
    sweeps.push_back(sweep(std::move(spec), contestants, size, ++seed, progress));
  }
  for (const double life_days : {7.0, 20.0}) {
    auto spec = reference_world();
    spec.set_life_days = life_days;
    spec.name += ", sets of " + std::to_string(static_cast<int>(life_days)) + " days";
    sweeps.push_back(sweep(std::move(spec), contestants, size, ++seed, progress));
  }
  auto doubled = reference_world();
  doubled.cells.specimen_spread = 2;
  doubled.cells.exponent_alike = CellsSpec{}.exponent_alike;
  doubled.name += ", specimens twice as far apart";
  sweeps.push_back(sweep(std::move(doubled), contestants, size, ++seed, progress));
  return sweeps;
}

Curve one_n_over(const std::vector<Sweep>& sweeps) {
  Curve curve{"one N for all", {}, {}, {}};
  // Percent gauge, 7, 12 and 20 days, a third of the households each: under one N all use as many sets a year.
  const std::vector<const SweepRecord*> records{&sweeps[2].record, &sweeps[0].record, &sweeps[3].record};
  const double share = 1.0 / static_cast<double>(records.size());
  for (int days = 3; days <= 14; ++days) {
    FrontierPoint all{static_cast<double>(days)};
    for (const auto* record : records) {
      const auto point = lay_over(*record, best, after_days(days), days, life::Policy{}.miss_probability);
      all.waste += share * point.waste;
      all.run_outs_kept += share * point.run_outs_kept;
      all.run_outs_missed += share * point.run_outs_missed;
      all.sets += point.sets;
    }
    curve.frontier.push_back(all);
  }
  return curve;
}

}  // namespace cellarer::bench
