// SPDX-License-Identifier: MIT
// The trial tries what ships: followed reading by reading, ours answers as life::forecast does from all records at
// once.
#include "tests/bench/ours.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/life_world.hpp"

using namespace cellarer;
using namespace std::chrono_literals;

TEST_CASE("ours moved forward by what is new is the forecast made from all records") {
  // Identity: the same classes fed in two ways.
  testing::World world;
  const auto ours = bench::our_forecaster({})(world.household);
  for (const auto& change : world.household.cell_changes) ours->recorded(change);
  constexpr int days = 27, set_days = 9;
  for (int day = 1; day <= days; ++day) {
    const auto at = world.start + 24h * day;
    // Readings that fall as a set's do, a little off, the same for both ways of telling. One side alone: what the other
    // side's set teaches in the middle of this one's counts for the forecast at once, for ours from the next set on.
    const double shown = 97 - 8.0 * (day % set_days) + (day % 3);
    ours->recorded(world.read(Side::left, at - 10min, life::PercentShown{shown}));
    if (day % set_days == 0) ours->recorded(world.change(Side::left, at));
  }
  const auto now = world.start + 24h * days + 48h;
  const auto forecast = world.left(now);
  // Ours holds a set against what was known when it went in, the forecast against what had drifted by when it came out:
  // days of drift, which come to less than a thousandth.
  for (std::size_t night = 0; night < 8; ++night) {
    const auto by = forecast.nights[night].to;
    REQUIRE(ours->probability_by(Side::left, now, by) ==
            Approx(forecast.nights[night].risk_by_end).epsilon(1e-3).margin(1e-12));
  }
}
