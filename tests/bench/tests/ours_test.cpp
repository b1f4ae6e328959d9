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
    for (const auto side : both_sides) {
      // Readings that fall as a set's do, a little off, the same for both ways of telling.
      const double shown = 97 - 8.0 * (day % set_days) + (day % 3) - (side == Side::left ? 1 : 0);
      ours->recorded(world.read(side, at - 10min, life::PercentShown{shown}));
      if (day % set_days == 0) ours->recorded(world.change(side, at));
    }
  }
  const auto now = world.start + 24h * days + 48h;
  for (const auto side : both_sides) {
    const auto forecast = life::forecast(world.household, now).side(side);
    for (std::size_t night = 0; night < 8; ++night) {
      const auto by = forecast.nights[night].to;
      // Both know the charge a day from how far they look ahead (400 and 500 days), winter and summer in it.
      REQUIRE(ours->probability_by(side, now, by) ==
              Approx(forecast.nights[night].risk_by_end).epsilon(1e-2).margin(1e-12));
    }
  }
}
