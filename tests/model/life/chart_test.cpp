// SPDX-License-Identifier: MIT
#include "model/life/forecast_with_tables.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/life_world.hpp"

using namespace cellarer;
using namespace std::chrono_literals;

TEST_CASE("a forecast of which no chart is wanted is the same in all else") {
  testing::World world;
  for (int day = 1; day < 6; ++day) world.read(Side::left, world.start + day * 24h, life::PercentShown{98.0 - 6 * day});
  const auto as_of = world.start + 24h * 6;
  life::LoadTables tables;
  life::Learned learned, also;
  const auto with = life::forecast(world.household, as_of, tables, learned);
  const auto without = life::forecast(world.household, as_of, tables, also, life::Chart::not_wanted);
  for (const auto which : both_sides) {
    const auto &one = with.side(which), &other = without.side(which);
    CHECK(one.gauge.size() > 10);
    CHECK(other.gauge.empty());
    CHECK(one.change_by == other.change_by);
    CHECK(one.no_later_than == other.no_later_than);
    CHECK(one.phrase == other.phrase);
    CHECK(one.because == other.because);
    CHECK(one.questions == other.questions);
    CHECK(one.set_life_h == other.set_life_h);
    REQUIRE(one.nights.size() == other.nights.size());
    for (std::size_t night = 0; night < one.nights.size(); ++night)
      CHECK(one.nights[night].risk == other.nights[night].risk);
  }
}
