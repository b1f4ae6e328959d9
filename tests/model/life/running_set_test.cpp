// SPDX-License-Identifier: MIT
// What is kept of the sets that are in against following them anew: an identity, to the last bit.
#include "model/life/running_set.hpp"

#include "model/life/forecast_with_tables.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/life_world.hpp"

using namespace cellarer;
using namespace std::chrono_literals;

namespace {

auto numbers_and_moments(const life::SideForecast& side) {
  std::vector<double> numbers{side.set_life_h.value_or(-1), side.shortest_life_h.value_or(-1)};
  for (const auto& night : side.nights) numbers.insert(numbers.end(), {night.risk, night.risk_by_end});
  for (const auto& point : side.gauge) numbers.insert(numbers.end(), {point.p05, point.p50, point.p95});
  if (side.remaining_h) numbers.insert(numbers.end(), {side.remaining_h->p05, side.remaining_h->p50});
  if (side.warning_at) numbers.push_back(hours_between(*side.cells_since, side.warning_at->p50));
  return std::make_tuple(numbers, side.change_by, side.no_later_than, side.phrase, side.because, side.questions);
}

/// A home with its running sets kept, beside the same home that is followed anew each time.
struct Kept {
  testing::World world;
  life::LoadTables tables;
  life::Learned learned;
  Instant as_of = world.start + 24h * 5;

  Kept() { learned.keep_running(true); }

  /// Whether both sides say the same both ways; and which of them took in only what was new.
  std::array<bool, 2> agrees() {
    const std::array<int, 2> before{went_on(Side::left), went_on(Side::right)};
    const auto kept = life::forecast(world.household, as_of, tables, learned),
               anew = life::forecast(world.household, as_of);
    for (const auto side : both_sides)
      REQUIRE(numbers_and_moments(kept.side(side)) == numbers_and_moments(anew.side(side)));
    return {went_on(Side::left) > before[0], went_on(Side::right) > before[1]};
  }
  int went_on(Side side) { return learned.running(side)->went_on(); }
};

using Both = std::array<bool, 2>;
constexpr Both neither{false, false}, both{true, true}, only_right{false, true};

}  // namespace

TEST_CASE("a set that is kept and moved forward by what is new says what it says when it is followed anew") {
  Kept home;
  auto& [world, tables, learned, as_of] = home;
  world.read(Side::left, world.start + 24h, life::PercentShown{90});
  world.read(Side::right, world.start + 25h, life::StepShown{5, 5});
  REQUIRE(home.agrees() == neither);
  REQUIRE(home.agrees() == both);
  for (int day = 5; day < 9; ++day, as_of += 24h) {
    world.read(Side::left, as_of - 1h, life::PercentShown{90.0 - 6 * day});
    REQUIRE(home.agrees() == both);
  }
  world.read(Side::right, as_of - 2h, life::StepShown{3, 5});
  world.read(Side::left, as_of - 2h, life::SetVolts{2.55});
  REQUIRE(home.agrees() == both);
  as_of += 7 * 24h;  // as of a later moment the calendar reaches further
  REQUIRE(home.agrees() == both);
}

TEST_CASE("where something has changed that a kept set rests on it is followed anew") {
  Kept home;
  auto& [world, tables, learned, as_of] = home;
  auto& household = world.household;
  for (const auto side : both_sides) {
    world.read(side, world.start + 24h, life::PercentShown{92});
    world.read(side, world.start + 72h, life::PercentShown{80});
  }
  home.agrees();
  const auto after = [&](const char* what, Both expected) {
    INFO(what);
    REQUIRE(home.agrees() == expected);
    REQUIRE(home.agrees() == both);
  };
  world.read(Side::left, world.start + 48h, life::PercentShown{85});
  after("a reading between those that were there", only_right);
  household.readings.erase(household.readings.begin());
  after("a reading taken back", only_right);
  world.change(Side::left, as_of - 1h);
  after("a change: one side has other cells, and what the set taught is common to both", neither);
  household.paced_more.push_back({Side::right, as_of + 72h, {}, 24.0, {}});
  after("more pacing, planned for after the set's first week", both);
  household.paced_more.back().from = world.start + 30h;
  after("more pacing, as is told now, on days that readings have seen", {true, false});
  household.settings.push_back(household.settings.front());
  household.settings.back().side = Side::left;
  household.settings.back().from = as_of + 48h;
  household.settings.back().amplitude *= 1.2;
  after("settings planned", only_right);
  household.units.front().stimulator.gauge.noise_points *= 2;
  after("a profile approved", neither);
}

TEST_CASE("with a second opinion open a kept set is followed anew") {
  Kept home;
  auto& [world, tables, learned, as_of] = home;
  world.read(Side::left, world.start + 24h, life::PercentShown{90});
  world.read(Side::left, world.start + 60h, life::PercentShown{5});  // far below: other cells, or a slip
  world.read(Side::right, world.start + 24h, life::PercentShown{92});
  REQUIRE(home.agrees() == neither);
  REQUIRE(home.agrees() == only_right);
}
