// SPDX-License-Identifier: MIT
// When the page asks for a look at the gauge: issue "a forecast that can be trusted", at most every third day.
#include <algorithm>

#include "model/life/normal.hpp"
#include "model/life/set_posterior.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/life_world.hpp"

using namespace cellarer;
using namespace std::chrono_literals;

namespace {

bool asked(const testing::World& world, Instant at) {
  const auto& questions = world.left(at).questions;
  return std::find(questions.begin(), questions.end(), life::Question::a_reading_would_help) != questions.end();
}

/// Of a fresh set of the world's, without readings: what a look at the gauge after so many days would be worth.
life::SetPosterior::WorthOfReading worth(std::optional<int> steps, int day) {
  testing::World world;
  world.household.units.front().stimulator.gauge.steps = steps;
  const life::Course course(world.household, Side::left, world.start, world.start + 24h * 80);
  const auto cell = testing::plain_cell();
  life::SetPosterior::Setup setup;
  setup.course = &course;
  setup.cell = &cell;
  return life::SetPosterior(setup).worth_of_reading(course.charge_mAh(world.start + 24h * day));
}

}  // namespace

TEST_CASE("a look at the gauge is asked for within a set's life, and never within three days of a reading") {
  testing::World world;
  const auto due = *world.left(world.start + 1h).change_by;
  bool ever = false;
  for (Instant at = world.start + 1h; at < due; at += 6h) {
    const bool now = asked(world, at);
    ever = ever || now;
    if (at < world.start + 24h * 3) REQUIRE_FALSE(now);
  }
  REQUIRE(ever);
  world.read(Side::left, world.start + 24h * 4, life::PercentShown{62});
  for (int hour = 1; hour < 72; hour += 6) REQUIRE_FALSE(asked(world, world.start + 24h * 4 + hour * 1h));
}

TEST_CASE("it is not asked for once the change is due") {
  testing::World world;
  const auto due = *world.left(world.start + 1h).change_by;
  REQUIRE_FALSE(asked(world, due + 1h));
}

TEST_CASE("a reading never widens, tells more late in the life than early, and steps tell less than numbers") {
  const auto early = worth(std::nullopt, 1), late = worth(std::nullopt, 9), by_steps = worth(3, 9);
  REQUIRE(early.sd_after_mAh <= early.sd_before_mAh);
  REQUIRE(late.sd_after_mAh < early.sd_after_mAh);
  REQUIRE(by_steps.sd_after_mAh > late.sd_after_mAh);
  REQUIRE(by_steps.sd_after_mAh < by_steps.sd_before_mAh);
}

TEST_CASE("quantiles of the standard normal distribution") {
  // Any table: 1.6449 at 95 %, 1.9600 at 97.5 %, -4.2649 at 1 in 100 000.
  REQUIRE(life::normal_quantile(0.95) == Approx(1.6449).epsilon(1e-4));
  REQUIRE(life::normal_quantile(0.975) == Approx(1.9600).epsilon(1e-4));
  REQUIRE(life::normal_quantile(1e-5) == Approx(-4.2649).epsilon(1e-4));
}
