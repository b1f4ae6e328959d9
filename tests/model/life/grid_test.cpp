// SPDX-License-Identifier: MIT
// How far the hypotheses may lie apart: the same readings on a grid three times as fine along both axes say nearly the
// same, an identity up to what the grid costs.
#include <cmath>
#include <string>

#include "model/life/set_posterior.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/life_world.hpp"

using namespace cellarer;
using namespace std::chrono_literals;

namespace {

/// A set on two grids, which hear the same readings: those that the finer one expects, give or take the gauge's noise.
struct OnTwoGrids {
  testing::World world;
  cell::Profile cells = testing::plain_cell();
  std::unique_ptr<life::Course> course;
  std::unique_ptr<life::SetPosterior> usual, fine;

  OnTwoGrids(std::chrono::minutes a_night, double amplitude, bool brand_known) {
    for (auto& settings : world.household.settings) {
      settings.amplitude = amplitude;
      settings.paced = {{{true, true, true, true, true, true, true}, 22h, (22h + a_night) % 24h}};
    }
    cells.spread.brand_log_sd = brand_known ? 0 : 0.1;
    course = std::make_unique<life::Course>(world.household, Side::left, world.start, world.start + 24h * 200);
    life::SetPosterior::Setup setup;
    setup.course = course.get();
    setup.cell = &cells;
    const double capacity_sd = life::own_capacity_log_sd(cells.spread, 2, 0);
    setup.prior.belief.cov(life::row_capacity, life::row_capacity) = capacity_sd * capacity_sd;
    usual = std::make_unique<life::SetPosterior>(setup);
    setup.grid.use = 3 * setup.grid.use - 2;
    setup.grid.capacity = 3 * setup.grid.capacity - 2;
    fine = std::make_unique<life::SetPosterior>(setup);
  }

  void read_daily(Instant until) {
    int i = 0;
    for (auto at = world.start + 24h; at < until; at += 24h) {
      life::Observation seen{at, life::Condition::pacing};
      const double off = course->phases().front().unit->gauge.noise_points * 0.5 * std::sin(2.4 * ++i);
      seen.low = seen.high = std::round(fine->gauge_at(course->charge_mAh(at)).mean + off);
      seen.white_sd = 1;
      for (auto* posterior : {usual.get(), fine.get()}) posterior->observe(seen);
    }
  }
};

}  // namespace

TEST_CASE("on a grid three times as fine a set ends when it ends on the usual one") {
  const auto [a_night, amplitude] = GENERATE(std::pair(240min, 2.0), std::pair(570min, 4.0), std::pair(1380min, 4.0));
  const bool brand_known = GENERATE(true, false);
  const double share = GENERATE(0.2, 0.5, 0.8);
  CAPTURE(a_night.count(), brand_known, share);
  OnTwoGrids set(a_night, amplitude, brand_known);
  const double life_mAh = set.fine->cutoff().charge(0.5);
  set.read_daily(set.course->when(share * life_mAh));
  const auto usual = set.usual->cutoff(), fine = set.fine->cutoff();
  const double width = fine.charge(0.95) - fine.charge(0.05);
  for (const double probability : {0.05, 0.5, 0.95})
    CHECK(std::abs(usual.charge(probability) - fine.charge(probability)) < 0.05 * width);
  // The risks that the policy's limits are about.
  for (const double risk : {1e-5, 4e-4, 1e-2}) {
    const double there = usual.by(fine.charge(risk));
    CAPTURE(risk, there);
    CHECK(std::abs(std::log(there / risk)) < std::log(1.5));
  }
}
