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
  constexpr int days = 27;
  for (int day = 1; day <= days; ++day) {
    const auto at = world.start + 24h * day;
    // What one side's set teaches in the middle of the other's counts for both ways of telling at once.
    for (const auto& [side, set_days] : {std::pair{Side::left, 9}, std::pair{Side::right, 7}}) {
      // Readings that fall as a set's do, a little off.
      const double shown = 97 - 8.0 * (day % set_days) + (day % 3);
      ours->recorded(world.read(side, at - 10min, life::PercentShown{shown}));
      if (day % set_days == 0) ours->recorded(world.change(side, at));
    }
  }
  const auto now = world.start + 24h * days + 48h;
  const auto forecast = life::forecast(world.household, now);
  for (const auto side : both_sides) {
    const auto& nights = forecast.side(side).nights;
    REQUIRE(nights.size() > 5);
    // Ours holds a set that came out against what was known when the other side's last one did, the forecast against
    // what has drifted from there on: some days of drift, a ten-thousandth.
    for (const auto& night : nights)
      REQUIRE(ours->probability_by(side, now, night.to) == Approx(night.risk_by_end).epsilon(1e-3).margin(1e-12));
  }
}
