// SPDX-License-Identifier: MIT
#include <array>

#include "tests/bench/trial/trial.hpp"

namespace cellarer::bench {

namespace {

constexpr double plans_share = 1.0 / 16;
constexpr double spells_a_year = 6;
constexpr std::array on_record{1.0, 0.0};

}  // namespace

double work_of_plans(const TrialSize& size) {
  return static_cast<double>(on_record.size()) * side_nights_of(part_of(size, plans_share), WorldSpec{}.nights);
}

/// The reference world with spells in which sides pace longer than planned: the same homes and spells, told and not.
/// The best possible knows of no plans, and is not there.
std::vector<NamedRun> try_plans(const Contestants& contestants, const TrialSize& size, Progress& progress) {
  std::vector<NamedRun> runs;
  for (const double recorded : on_record) {
    auto spec = reference_world();
    spec.seed = 100 * size.seed + 60;
    spec.use.longer_spells_a_year = spells_a_year;
    spec.use.longer_recorded = recorded;
    spec.name = recorded > 0 ? "longer pacing, on record" : "longer pacing, not told";
    progress.now(spec.name);
    const World world(spec, size.cells_folder);
    Run one;
    one.world = &world;
    one.seed = spec.seed;
    one.households = part_of(size, plans_share);
    one.decider = contestants.ours;
    one.asked.gauge = gauge_name(spec.unit.gauge_steps);
    one.asked.beliefs = {0};
    one.asked.sampling = {0.25, 0.04};
    runs.push_back({spec.name, false, run(one, progress)});
  }
  return runs;
}

}  // namespace cellarer::bench
