// SPDX-License-Identifier: MIT
#include "tests/bench/peers/best_possible.hpp"
#include "tests/bench/peers/oracle.hpp"
#include "tests/bench/peers/rules.hpp"
#include "tests/bench/trial/run.hpp"
#include "tests/bench/world/household_truth.hpp"
#include "tests/bench/world/simulate.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::bench;

namespace {

Scores tried(const World& world, const MakeForecaster& decider, std::size_t households, double sample = 0) {
  Progress silent(1, false);
  Run one;
  one.world = &world;
  one.seed = 7;
  one.households = households;
  one.decider = decider;
  if (sample > 0) one.asked.beliefs = {0};
  one.asked.sampling = {sample, 0};
  return run(one, silent);
}

World world_of(int steps) { return World(reference_world(steps), CELLARER_SOURCE_DIR "/data/cells"); }

}  // namespace

TEST_CASE("an oracle wastes what one changing time a day makes unavoidable, and no more") {
  const auto world = world_of(0);
  const auto scores = tried(world, oracle(), 8);
  CHECK(scores.tally.run_outs() == 0);
  // Cut-off comes as often at one part of a day's charge as at another, so half a day of about 12.5 is left; the
  // world's spread and its converter move that by a few parts in a hundred.
  CHECK(scores.tally.charge_wasted() > 0.5 / 12.5 * 0.9);
  CHECK(scores.tally.charge_wasted() < 0.5 / 12.5 * 1.4);
}

TEST_CASE("the best possible forecaster's intervals hold the truth as often as they say") {
  // The definition of a posterior under the true generator; some hundred sets, so to a few per cent.
  for (const int steps : {0, 5}) {
    const auto world = world_of(steps);
    const auto best = best_possible(world, HouseholdTruth(world, 7, 0).burst_share());
    const auto scores = tried(world, best, 10, 0.25);
    const auto& all = scores.beliefs.front().coverage().at("all");
    CHECK(all.sets() > 500);
    CHECK(all.share(Coverage::ninety) == Approx(0.90).margin(0.035));
    CHECK(all.share(0) == Approx(0.50).margin(0.05));
    CHECK(scores.tally.run_outs() == 0);
  }
}

TEST_CASE("whoever is told a truth beside has intervals that hold as often, and knows the end no worse") {
  // The definition of a posterior, and that more knowledge lowers the expected score (Gneiting and Raftery 2007: CRPS
  // is proper). Use is the widest of the three spreads, so its truth is worth most.
  const auto world = world_of(0);
  const double burst_share = HouseholdTruth(world, 7, 0).burst_share();
  Progress silent(1, false);
  Run one;
  one.world = &world;
  one.seed = 7;
  one.households = 8;
  one.decider = best_possible(world, burst_share);
  for (const auto given : {GivenTruth::cell, GivenTruth::gauge, GivenTruth::use})
    one.told.push_back(best_possible(world, burst_share, std::nullopt, given));
  one.asked.beliefs = {0, 1, 2, 3};
  one.asked.sampling = {0.25, 0.1};
  const auto beliefs = run(one, silent).beliefs;
  for (const auto& belief : beliefs)
    CHECK(belief.coverage().at("all").share(Coverage::ninety) == Approx(0.90).margin(0.04));
  CHECK(beliefs[1].mean_crps_h() < beliefs[0].mean_crps_h());
  CHECK(beliefs[2].mean_crps_h() < 1.02 * beliefs[0].mean_crps_h());
  CHECK(beliefs[3].mean_crps_h() < 0.7 * beliefs[0].mean_crps_h());
}

TEST_CASE("a rule of N days changes every N days") {
  const auto world = world_of(0);
  const auto scores = tried(world, every_n_days(5), 8);
  CHECK(scores.tally.sets_per_wearer_year() == Approx(2 * 365.25 / 5).epsilon(0.02));
}

TEST_CASE("who waits for the unit's warning runs out where it goes unheeded") {
  const auto world = world_of(0);
  const auto scores = tried(world, at_the_warning(), 8);
  CHECK(scores.tally.ended(SetEnd::planned) == 0);
  CHECK(scores.tally.run_outs() == scores.tally.sets());
}

TEST_CASE("households spread over parts and threads score as they do one after the other") {
  const auto world = world_of(0);
  constexpr std::size_t households = 10;
  const auto decider = best_possible(world, HouseholdTruth(world, 7, 0).burst_share());
  const auto spread = tried(world, decider, households, 0.05);
  ScoreAsked asked;
  asked.beliefs = {0};
  asked.sampling = {0.05, 0};
  Scores in_a_row(asked);
  for (std::size_t household = 0; household < households; ++household)
    simulate(world, 7, household, decider, {}, in_a_row);
  CHECK(spread.tally.sets() == in_a_row.tally.sets());
  CHECK(spread.tally.warnings() == in_a_row.tally.warnings());
  CHECK(spread.tally.charge_wasted() == Approx(in_a_row.tally.charge_wasted()));
  const auto &together = spread.beliefs.front().coverage(), &one_by_one = in_a_row.beliefs.front().coverage();
  REQUIRE(together.size() == one_by_one.size());
  for (const auto& [slice, coverage] : together) {
    CHECK(coverage.evenings() == one_by_one.at(slice).evenings());
    CHECK(coverage.sets() == one_by_one.at(slice).sets());
    CHECK(coverage.share(Coverage::ninety) == one_by_one.at(slice).share(Coverage::ninety));
  }
  // On any number of cores to the last bit, since parts merge in order.
  CHECK(spread.tally.charge_wasted() == tried(world, decider, households, 0.05).tally.charge_wasted());
}
