// SPDX-License-Identifier: MIT
// What protects people, section 9 of DEVELOPERS.md, as far as it is the model's: each rule is its own source.
#include <algorithm>
#include <cmath>

#include "tests/support/catch.hpp"
#include "tests/support/life_world.hpp"

using namespace cellarer;
using namespace std::chrono_literals;
using life::Phrase;
using life::Question;

namespace {

bool asks(const life::SideForecast& forecast, Question question) {
  return std::find(forecast.questions.begin(), forecast.questions.end(), question) != forecast.questions.end();
}

/// What the gauge is expected to show at a moment, by the forecast's own chart.
double expected_percent(const testing::World& world, Instant at) {
  const auto points = world.left(at).gauge;
  const auto after = std::find_if(points.begin(), points.end(), [&](const auto& point) { return point.at >= at; });
  return after->p50;
}

}  // namespace

TEST_CASE("one reading above the range never moves change by later, and the page asks") {
  testing::World world;
  const auto at = world.start + 24h * 5;
  const auto before = world.left(at);
  world.read(Side::left, at, life::PercentShown{100});
  const auto after = world.left(at);
  REQUIRE(asks(after, Question::were_cells_changed));
  REQUIRE(*after.change_by <= *before.change_by);
  REQUIRE(*after.no_later_than <= *before.no_later_than);
  REQUIRE(after.remaining_h->p05 <= before.remaining_h->p05);
}

TEST_CASE("a high reading that the next one does not bear out has changed nothing") {
  testing::World world;
  const auto at = world.start + 24h * 5;
  const double expected = expected_percent(world, at + 24h);
  world.read(Side::left, at + 24h, life::PercentShown{expected});
  const auto without = world.left(at + 24h);
  world.read(Side::left, at, life::PercentShown{100});
  const auto with = world.left(at + 24h);
  REQUIRE_FALSE(asks(with, Question::were_cells_changed));
  REQUIRE(*with.change_by == *without.change_by);
}

TEST_CASE("two high readings make a change that nobody recorded likely, and still the earlier date counts") {
  testing::World world;
  const auto at = world.start + 24h * 6;
  const auto before = world.left(at);
  world.read(Side::left, at, life::PercentShown{98});
  world.read(Side::left, at + 24h, life::PercentShown{96});
  const auto after = world.left(at + 24h);
  REQUIRE(asks(after, Question::were_cells_changed));
  REQUIRE(after.remaining_h->p95 > before.remaining_h->p95);  // the new set's life is now among what may be
  REQUIRE(*after.change_by <= *before.change_by + 24h);       // but the old set's risk is still carried
}

TEST_CASE("one look at the gauge, recorded by two phones or a minute later again, is no second reading") {
  testing::World world;
  const auto at = world.start + 24h * 6;
  const auto before = world.left(at);
  world.read(Side::left, at, life::PercentShown{100});
  world.read(Side::left, at, life::PercentShown{100});
  world.read(Side::left, at + 1min, life::PercentShown{99});
  const auto after = world.left(at + 1min);
  REQUIRE(asks(after, Question::were_cells_changed));
  REQUIRE(*after.change_by <= *before.change_by);
  REQUIRE(*after.no_later_than <= *before.no_later_than);
  REQUIRE(after.remaining_h->p95 <= before.remaining_h->p95);
}

TEST_CASE("a reading below the range is acted on at once") {
  testing::World world;
  const auto at = world.start + 24h * 3;
  const auto before = world.left(at);
  world.read(Side::left, at, life::PercentShown{20});
  const auto after = world.left(at);
  REQUIRE(asks(after, Question::reading_is_low));
  REQUIRE(*after.change_by < *before.change_by);
  REQUIRE(after.remaining_h->p50 < before.remaining_h->p50);
  REQUIRE(after.phrase != Phrase::expected_to_last_tonight);
}

TEST_CASE("after a warning there is no time left to show, no strip and no date until the next change") {
  testing::World world;
  const auto at = world.start + 24h * 4;
  world.read(Side::left, at, life::WarningSounded{});
  const auto warned = world.left(at + 1h);
  REQUIRE(warned.phrase == Phrase::change_now);
  REQUIRE(warned.warned_at == at);
  REQUIRE_FALSE(warned.remaining_h);
  REQUIRE_FALSE(warned.change_by);
  REQUIRE(warned.nights.empty());
  world.change(Side::left, at + 2h, life::ChangeReason::warning);
  const auto changed = world.left(at + 3h);
  REQUIRE_FALSE(changed.warned_at);
  REQUIRE(changed.phrase == Phrase::expected_to_last_tonight);
}

TEST_CASE("a warning of one side leaves the other side's forecast as it was") {
  testing::World world;
  const auto at = world.start + 24h * 4;
  const auto before = life::forecast(world.household, at).side(Side::right);
  world.read(Side::left, at, life::WarningSounded{});
  const auto after = life::forecast(world.household, at).side(Side::right);
  REQUIRE(*after.change_by == *before.change_by);
}

TEST_CASE("a change by that has passed without a change asks for it and never names the next date") {
  testing::World world;
  const auto due = *world.left(world.start + 1h).change_by;
  const auto late = world.left(due + 1h);
  REQUIRE(late.phrase == Phrase::change_now);
  REQUIRE(asks(late, Question::was_it_changed));
  REQUIRE(*late.change_by == due);
}

TEST_CASE("on the day of change by the phrase is to change before tonight, from the morning to the minute") {
  testing::World world;
  const auto due = *world.left(world.start + 1h).change_by;
  REQUIRE(world.left(due - 12h).phrase == Phrase::change_before_tonight);
  REQUIRE(world.left(due).phrase == Phrase::change_before_tonight);
  REQUIRE(world.left(due - 18h).phrase == Phrase::expected_to_last_tonight);  // 03:30, the night before
}

TEST_CASE("a side of which nothing was recorded for seven nights or half a set's life is to be looked at") {
  testing::World world;
  const auto at = world.start + 24h * 4;
  REQUIRE_FALSE(asks(world.left(at), Question::note_the_gauge));
  REQUIRE(asks(world.left(world.start + 24h * 7), Question::note_the_gauge));
  world.read(Side::left, world.start + 24h * 6, life::PercentShown{60});
  REQUIRE_FALSE(asks(world.left(world.start + 24h * 7), Question::note_the_gauge));
}

TEST_CASE("cells of unknown age are to be changed at the next changing time") {
  testing::World world;
  world.change(Side::left, world.start + 24h * 2 + 1h).cells.age = life::CellAge::unknown;
  const auto forecast = world.left(world.start + 24h * 2 + 10h);
  REQUIRE(*forecast.change_by == world.start + 24h * 3);
  REQUIRE(asks(forecast, Question::which_cells));
}

TEST_CASE("a set of unknown age is never expected to last a night that it may well not last") {
  testing::World world;
  world.change(Side::left, world.start + 24h * 2).cells.age = life::CellAge::unknown;
  for (const auto after : {10min, 300min, 720min, 1380min}) {
    const auto forecast = world.left(world.start + 24h * 2 + after);
    REQUIRE(forecast.phrase != Phrase::expected_to_last_tonight);
    for (const auto& night : forecast.nights)
      REQUIRE((night.window != life::Window::expected || night.risk_by_end <= 1e-3));
  }
}

TEST_CASE("a warning counts on a side of which no cells, no settings or no unit are recorded") {
  testing::World no_unit, no_settings, no_cells;
  no_unit.household.units.clear();
  no_settings.household.settings.clear();
  no_cells.household.cell_changes.clear();
  for (auto* world : {&no_unit, &no_settings, &no_cells}) {
    world->read(Side::left, world->start + 24h, life::WarningSounded{});
    const auto forecast = world->left(world->start + 25h);
    REQUIRE(forecast.phrase == Phrase::change_now);
    REQUIRE(forecast.warned_at == world->start + 24h);
    REQUIRE(forecast.questions.empty());
  }
}

TEST_CASE("a low reading just after switching on counts, a high one does not") {
  testing::World plain, low, high;
  for (auto* world : {&plain, &low, &high}) world->household.units.front().stimulator.gauge.reads_high_after_on = true;
  const auto at = plain.start + 24h * 3;
  low.read(Side::left, at, life::PercentShown{15}, life::Condition::just_on);
  high.read(Side::left, at, life::PercentShown{98}, life::Condition::just_on);
  REQUIRE(*low.left(at).change_by < *plain.left(at).change_by);
  REQUIRE(*high.left(at).change_by <= *plain.left(at).change_by);
}

// Identity: what a latching gauge shows while the unit is off is what it showed while the unit was pacing.
TEST_CASE("a gauge that latches shows its pacing, whatever the unit does when it is read") {
  testing::World pacing, idle, loose;
  for (auto* world : {&pacing, &idle}) world->household.units.front().stimulator.gauge.latches = true;
  const auto at = pacing.start + 24h * 4;
  pacing.read(Side::left, at, life::PercentShown{55});
  idle.read(Side::left, at, life::PercentShown{55}, life::Condition::idle);
  loose.read(Side::left, at, life::PercentShown{55}, life::Condition::idle);
  REQUIRE(idle.left(at).remaining_h->p50 == pacing.left(at).remaining_h->p50);
  REQUIRE(loose.left(at).remaining_h->p50 < idle.left(at).remaining_h->p50);  // at rest the cells stand higher
}

TEST_CASE("the warning is never promised for after the cells' end") {
  for (const double percent : {0.0, 5.0, 20.0, 60.0}) {
    testing::World world;
    const auto at = world.start + 24h * 5;
    world.read(Side::left, at, life::PercentShown{percent});
    const auto forecast = world.left(at + 1h);
    REQUIRE(forecast.warning_at->p50 <= forecast.cutoff_at->p50);
    REQUIRE(forecast.warning_at->p95 <= forecast.cutoff_at->p95);
  }
}

TEST_CASE("an expiry that nobody noted is not the most favourable one") {
  testing::World unknown, young, old;
  young.household.cell_changes.front().cells.expires = std::chrono::year(2036) / 1;
  old.household.cell_changes.front().cells.expires = std::chrono::year(2027) / 1;
  const auto at = unknown.start + 1h;
  REQUIRE(unknown.left(at).remaining_h->p50 < young.left(at).remaining_h->p50);
  REQUIRE(unknown.left(at).remaining_h->p50 > old.left(at).remaining_h->p50);
}

TEST_CASE("cells of a type without a forecast leave that side with no forecast, and the other with its own") {
  testing::World world;
  cell::Profile rechargeable;
  rechargeable.usable = false;
  rechargeable.why_not = "Rechargeable cells have no forecast.";
  world.household.cell_profiles["hr6"] = rechargeable;
  world.change(Side::left, world.start + 24h).cells.profile = "hr6";
  const auto forecast = life::forecast(world.household, world.start + 26h);
  REQUIRE(forecast.side(Side::left).phrase == Phrase::no_forecast);
  REQUIRE(asks(forecast.side(Side::left), Question::wrong_cells));
  REQUIRE(forecast.side(Side::right).phrase == Phrase::expected_to_last_tonight);
}

TEST_CASE("a second change that is perhaps the same leaves the older set in force and asks") {
  testing::World world;
  const auto before = world.left(world.start + 5h);
  world.change(Side::left, world.start + 4h).perhaps_the_same = true;
  const auto after = world.left(world.start + 5h);
  REQUIRE(asks(after, Question::same_change_twice));
  REQUIRE(*after.change_by == *before.change_by);
  REQUIRE(*after.cells_since == world.start);
}

TEST_CASE("without a unit, without settings or without cells there is no forecast, and the reason is said") {
  testing::World no_unit, no_settings, no_cells;
  no_unit.household.units.clear();
  no_settings.household.settings.clear();
  no_cells.household.cell_changes.clear();
  for (const auto* world : {&no_unit, &no_settings, &no_cells}) {
    const auto forecast = world->left(world->start + 1h);
    REQUIRE(forecast.phrase == Phrase::no_forecast);
    REQUIRE(forecast.because.size() == 1);
  }
}

TEST_CASE("a voltage that no cells of this set can have is acted on, and leaves numbers behind") {
  // One cell's voltage typed in for the set's, a slip of the finger, a meter on its last cells.
  for (const double volts : {1.5, 1.2, 0.6, 0.05}) {
    for (const auto condition : {life::Condition::pacing, life::Condition::idle, life::Condition::off}) {
      testing::World world;
      const auto at = world.start + 24h * 3;
      world.read(Side::left, at, life::SetVolts{volts}, condition);
      const auto numbers = [&](const life::SideForecast& side) {
        INFO(volts << " V, condition " << static_cast<int>(condition));
        REQUIRE(std::isfinite(side.remaining_h->p05 + side.remaining_h->p50 + side.remaining_h->p95));
        for (const auto& night : side.nights) REQUIRE(std::isfinite(night.risk + night.risk_by_end));
        for (const auto& point : side.gauge) REQUIRE(std::isfinite(point.p05 + point.p50 + point.p95));
        REQUIRE(std::isfinite(*side.set_life_h + *side.planned_life_h));
      };
      const auto low = world.left(at + 1h);
      numbers(low);
      REQUIRE(low.phrase == Phrase::change_now);
      world.read(Side::left, at + 2h, life::PercentShown{70});
      numbers(world.left(at + 3h));
      world.change(Side::left, at + 4h);
      const auto changed = world.left(at + 5h);
      numbers(changed);
      REQUIRE(changed.phrase == Phrase::expected_to_last_tonight);
      // And the next set is not taken to last longer than if nothing had been read: to some seconds, as what a set says
      // is summed over its grid.
      world.household.readings.clear();
      REQUIRE(*changed.set_life_h <= *world.left(at + 5h).set_life_h + 0.001);
    }
  }
}
