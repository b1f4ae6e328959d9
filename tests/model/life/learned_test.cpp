// SPDX-License-Identifier: MIT
// What is kept of ended sets against learning all of them anew: an identity, to the last bit.
#include "model/life/learned.hpp"

#include <random>

#include "model/life/forecast_with_tables.hpp"
#include "model/life/lessons.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/life_world.hpp"

using namespace cellarer;
using namespace std::chrono_literals;

namespace {

/// Everything of a side's forecast that numbers or moments are in.
auto told(const life::SideForecast& side) {
  std::vector<double> numbers{side.set_life_h.value_or(-1), side.set_life_log_sd.value_or(-1),
                              side.planned_life_h.value_or(-1), static_cast<double>(side.sets_seen)};
  for (const auto& night : side.nights) numbers.insert(numbers.end(), {night.risk, night.risk_by_end});
  for (const auto& point : side.gauge) numbers.insert(numbers.end(), {point.p05, point.p50, point.p95});
  if (side.remaining_h) numbers.insert(numbers.end(), {side.remaining_h->p05, side.remaining_h->p95});
  return std::make_tuple(numbers, side.change_by, side.no_later_than, side.phrase, side.because, side.questions);
}

/// Some months of a home: sets of about ten days with readings between, as a generator has them.
testing::World some_months(std::mt19937& random, int sets) {
  testing::World world;
  for (const auto side : both_sides) {
    auto at = world.start;
    for (int set = 0; set < sets; ++set) {
      const int days = 7 + static_cast<int>(random() % 5);
      for (int day = 2; day < days; day += 3)
        world.read(side, at + day * 24h,
                   life::PercentShown{95.0 - 60.0 * day / 11 + static_cast<double>(random() % 9)});
      at += days * 24h;
      world.change(side, at, random() % 4 == 0 ? life::ChangeReason::warning : life::ChangeReason::planned);
    }
  }
  return world;
}

/// Counts how often a set was begun to be followed: each asks for its tables.
struct Counting final : life::LoadTables {
  int asked = 0;
  std::shared_ptr<const life::LoadTable> get(const duty::Stimulator& unit, const cell::Curve& curve,
                                             const duty::BreathLoad& pacing) override {
    ++asked;
    return LoadTables::get(unit, curve, pacing);
  }
};

std::array<std::vector<life::Stint>, 2> stints_of(const life::Household& household, Instant as_of) {
  return {life::stints(household, Side::left, as_of), life::stints(household, Side::right, as_of)};
}

}  // namespace

TEST_CASE("a forecast with what was learned before is the same as without, whatever was recorded since") {
  std::mt19937 random(20261129);
  auto world = some_months(random, 3);
  auto& household = world.household;
  life::LoadTables tables;
  life::Learned kept;
  Instant as_of = world.start + 24h * 40;
  const auto agrees = [&](const char* after) {
    INFO(after);
    const auto with = life::forecast(household, as_of, tables, kept), anew = life::forecast(household, as_of);
    for (const auto side : both_sides) REQUIRE(told(with.side(side)) == told(anew.side(side)));
  };
  agrees("three sets a side");
  world.read(Side::left, as_of - 1h, life::PercentShown{60});
  agrees("a reading");
  world.change(Side::left, as_of - 30min);
  agrees("a change, so that one more set has ended");
  as_of += 24h * 5;
  agrees("some days");
  world.read(Side::right, world.start + 24h * 9 + 3h, life::WarningSounded{});
  agrees("a late entry to a set that ended long ago");
  household.readings.erase(household.readings.begin() + 2);
  agrees("an old reading taken back");
  household.cell_changes.erase(household.cell_changes.begin() + 3);
  agrees("an old change taken back");
  household.settings.front().amplitude = 4.4;
  agrees("settings corrected");
  household.units.push_back({"u-2", testing::plain_unit(), as_of - 48h});
  agrees("another unit in use");
  household.cell_profiles["lr6-plain"] = [] {
    auto better = testing::plain_cell();
    better.spread.lot_log_sd = 0.03;
    return better;
  }();
  agrees("a profile approved");
  household.agency.set_log_sd = 0.05;
  agrees("an agency that has learned");
  household.switched_off.push_back({Side::right, world.start + 24h * 3, world.start + 24h * 4});
  agrees("a side that was off");
  household.paced_more.push_back({Side::left, world.start + 24h * 12, world.start + 24h * 14, 20.0, {}});
  agrees("more pacing");
  household.hospital.push_back({world.start + 24h * 20, world.start + 24h * 22});
  agrees("a stay in hospital");
  as_of -= 24h * 20;
  agrees("an earlier moment");
}

TEST_CASE("with nothing new no ended set is followed again, with a change only the one that it ended") {
  std::mt19937 random(7);
  auto world = some_months(random, 4);
  Counting tables;
  life::Learned kept;
  const auto as_of = world.start + 24h * 60;
  kept.up_to(world.household, stints_of(world.household, as_of), tables);
  const int all = tables.asked;
  REQUIRE(all == 8);  // four sets a side
  kept.up_to(world.household, stints_of(world.household, as_of), tables);
  REQUIRE(tables.asked == all);
  world.change(Side::right, as_of - 1h);
  kept.up_to(world.household, stints_of(world.household, as_of), tables);
  REQUIRE(tables.asked == all + 1);
}

TEST_CASE("lessons that were kept elsewhere are taken up to the last bit, as long as what they rest on is the same") {
  std::mt19937 random(11);
  auto world = some_months(random, 3);
  auto& household = world.household;
  const auto as_of = world.start + 24h * 45;
  life::LoadTables tables;
  life::Learned first;
  CHECK_FALSE(first.kept());
  life::forecast(household, as_of, tables, first);
  const auto kept = first.kept().value();
  REQUIRE(kept.sets == 6);
  const auto basis_now = [&] { return life::Learned::basis(household, stints_of(household, as_of), kept.sets); };
  const auto basis = basis_now().value();

  // What comes after those sets does not touch them.
  world.read(Side::left, as_of - 1h, life::PercentShown{60});
  world.change(Side::right, as_of - 30min);
  CHECK(basis_now() == basis);
  Counting counting;
  life::Learned again;
  REQUIRE(again.take_up(household, stints_of(household, as_of), kept));
  again.up_to(household, stints_of(household, as_of), counting);
  CHECK(counting.asked == 1);
  const auto with = life::forecast(household, as_of, tables, again), anew = life::forecast(household, as_of);
  for (const auto side : both_sides) REQUIRE(told(with.side(side)) == told(anew.side(side)));

  // Of each kind of record one that does.
  const auto before = household;
  const auto changes_it = [&](const char* what, const auto& change) {
    INFO(what);
    change();
    CHECK(basis_now() != basis);
    household = before;
    CHECK(basis_now() == basis);
  };
  changes_it("a late reading", [&] { world.read(Side::right, world.start + 24h * 3, life::StepShown{4, 5}); });
  changes_it("a reading in other words", [&] { household.readings.front().value = life::SetVolts{95}; });
  changes_it("a change by an hour", [&] { household.cell_changes[1].at += 1h; });
  changes_it("a lot", [&] { household.cell_changes.front().cells.lot = "A1"; });
  changes_it("an expiry", [&] { household.cell_changes.front().cells.expires = std::chrono::year(2030) / 1; });
  changes_it("settings", [&] { household.settings.back().paced.front().to += 1min; });
  changes_it("a unit's gauge",
             [&] { household.units.front().stimulator.gauge.volts_at_percent.back().second += 1e-9; });
  changes_it("a curve", [&] { household.cell_profiles["lr6-plain"].curve = cell::Curve(2801, {}, {}, {}); });
  changes_it("the agency", [&] { household.agency.models["plain"].use_mean = 1e-12; });
  changes_it("the zone", [&] { household.zone = date::locate_zone("Europe/Paris"); });
  changes_it("a stay", [&] { household.stays.push_back({as_of, as_of + 1h, nullptr, {}}); });

  CHECK_FALSE(life::Learned::basis(household, stints_of(household, as_of), 8));
  auto torn = kept;
  torn.state.pop_back();
  life::Learned refused;
  CHECK_FALSE(refused.take_up(household, stints_of(household, as_of), torn));
  CHECK_FALSE(refused.kept());
}
