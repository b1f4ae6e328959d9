// SPDX-License-Identifier: MIT
// Plans in the forecast of a side. What is expected are identities (a plan is worth what the same thing written down as
// settings is worth) and dates worked by hand in Europe/Oslo, UTC+1 in January.
#include <algorithm>

#include "model/life/calendar.hpp"
#include "model/life/planned.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/life_world.hpp"

using namespace cellarer;
using namespace std::chrono_literals;
using life::Phrase;
using life::Question;
using life::SinceHospital;

namespace {

bool asks(const life::SideForecast& forecast, Question question) {
  return std::find(forecast.questions.begin(), forecast.questions.end(), question) != forecast.questions.end();
}

bool says(const life::SideForecast& forecast, const std::string& sentence) {
  return std::find(forecast.because.begin(), forecast.because.end(), sentence) != forecast.because.end();
}

/// The same in hours and dates, to rounding of sums.
void require_the_same(const life::SideForecast& a, const life::SideForecast& b) {
  REQUIRE(a.remaining_h->p50 == Approx(b.remaining_h->p50).epsilon(1e-4));
  REQUIRE(a.remaining_h->p05 == Approx(b.remaining_h->p05).epsilon(1e-4));
  REQUIRE(*a.change_by == *b.change_by);
  REQUIRE(*a.set_life_h == Approx(*b.set_life_h).epsilon(1e-4));
  REQUIRE(a.phrase == b.phrase);
}

duty::PacedSpan evenings(std::chrono::minutes from, std::chrono::minutes to) {
  return {{true, true, true, true, true, true, true}, from, to};
}

}  // namespace

TEST_CASE("spans that grow are worth the same settings written down week by week") {
  testing::World growing, by_hand;
  growing.household.settings[0].paced = {evenings(20h, 22h)};
  growing.household.settings[0].from = growing.start;
  growing.household.settings[0].growth = duty::Growth{growing.start, 60min, 14h};
  auto weekly = growing.household.settings[0];
  weekly.growth.reset();
  by_hand.household.settings[0] = weekly;
  for (int week = 1; week <= 57; ++week) {
    weekly.from = by_hand.start + std::chrono::days(7 * week);
    // the clocks go forward on 29 March: weeks begin at 21:30 by the wall clock
    if (weekly.from > date::sys_days(date::year(2026) / 3 / 29) &&
        weekly.from < date::sys_days(date::year(2026) / 10 / 25))
      weekly.from -= 1h;
    const auto to = 22h + std::min(week, 12) * 1h;
    weekly.paced = {evenings(20h, to >= 24h ? to - 24h : to)};
    if (to == 24h) weekly.paced = {evenings(20h, 24h)};
    by_hand.household.settings.push_back(weekly);
  }
  const auto at = growing.start + 30h;
  const auto side = growing.left(at);
  require_the_same(side, by_hand.left(at));
  REQUIRE(says(side, "Pacing grows by 60 minutes a week until 14 hours."));
  // and a set lasts shorter than with spans that stay
  growing.household.settings[0].growth.reset();
  REQUIRE(side.remaining_h->p50 < 0.8 * growing.left(at).remaining_h->p50);
}

TEST_CASE("pacing all day without an end is worth settings of the whole day from then on") {
  testing::World infected, by_hand;
  const auto fever = infected.start + 24h * 2;
  infected.household.paced_more.push_back({Side::left, fever, {}, 24, {}});
  auto all_day = by_hand.household.settings[0];
  all_day.from = fever;
  all_day.paced.clear();
  by_hand.household.settings.push_back(all_day);
  const auto side = infected.left(fever + 1h);
  require_the_same(side, by_hand.left(fever + 1h));
  REQUIRE(says(side, "Paced all day since Wed 7 Jan."));
}

TEST_CASE("a higher amplitude is worth settings of that amplitude, until its end") {
  testing::World infected, by_hand;
  const auto fever = infected.start + 24h * 2;
  infected.household.paced_more.push_back({Side::left, fever, fever + 24h * 3, {}, 4.6});
  auto raised = by_hand.household.settings[0];
  raised.from = fever;
  raised.amplitude = 4.6;
  auto back = by_hand.household.settings[0];
  back.from = fever + 24h * 3;
  by_hand.household.settings.push_back(raised);
  by_hand.household.settings.push_back(back);
  const auto side = infected.left(fever + 1h);
  require_the_same(side, by_hand.left(fever + 1h));
  // mean 0.28 x 70 + 0.72 x 2.2 = 21.18 mA; at 4.6: 0.28 x 77.8 + 0.72 x 2.2 = 23.37 mA, 10.3 % more
  REQUIRE(says(side, "Amplitude 4.6 instead of 4 since Wed 7 Jan until Sat 10 Jan: 10 % faster."));
}

TEST_CASE("what is paced more is asked about after three days, and three days after every answer") {
  testing::World world;
  const auto fever = world.start + 24h;
  world.household.paced_more.push_back({Side::left, fever, {}, 14, {}});
  REQUIRE_FALSE(asks(world.left(fever + 71h), Question::still_paced_more));
  REQUIRE(asks(world.left(fever + 72h), Question::still_paced_more));
  REQUIRE_FALSE(asks(life::forecast(world.household, fever + 72h).side(Side::right), Question::still_paced_more));
  world.household.paced_more[0].still_at = fever + 73h;
  REQUIRE_FALSE(asks(world.left(fever + 144h), Question::still_paced_more));
  REQUIRE(asks(world.left(fever + 145h), Question::still_paced_more));
  world.household.paced_more[0].to = fever + 80h;
  REQUIRE_FALSE(asks(world.left(fever + 145h), Question::still_paced_more));
}

TEST_CASE("a visit brings change by to the last changing time before it, if that is the earlier one") {
  testing::World world;  // fresh on Mon 5 Jan, 21:30
  const auto at = world.start + 24h;
  const auto usual = world.left(at);
  const auto morning = [](unsigned day) { return Instant(date::sys_days(date::year(2026) / 1 / day) + 8h); };  // 09:00
  REQUIRE(*usual.change_by > morning(9));
  world.household.visits.push_back({Side::left, morning(9)});
  const auto visit = world.left(at);
  REQUIRE(*visit.change_by == Instant(date::sys_days(date::year(2026) / 1 / 8) + 20h + 30min));
  REQUIRE(visit.change_for_visit == morning(9));
  REQUIRE(visit.remaining_h->p50 == usual.remaining_h->p50);
  REQUIRE(says(visit, "Fresh cells are wanted for the visit on Fri 9 Jan, 09:00."));
  REQUIRE(world.left(morning(8)).phrase == Phrase::change_before_tonight);
  REQUIRE(world.left(morning(7)).phrase == Phrase::expected_to_last_tonight);
  REQUIRE(world.left(morning(9) - 1h).phrase == Phrase::change_now);
  // the right side is not asked for
  const auto right = life::forecast(world.household, at).side(Side::right);
  REQUIRE(*right.change_by == *usual.change_by);
  // a later visit than the cells last moves nothing
  world.household.visits[0].at = *usual.change_by + 24h * 3;
  REQUIRE(*world.left(at).change_by == *usual.change_by);
}

TEST_CASE("after a visit the side is asked about, unless it came with fresh cells") {
  testing::World world;
  const Instant visit = world.start + 24h + 11h + 30min;  // Wed 7 Jan, 09:00
  world.household.visits.push_back({Side::left, visit});
  REQUIRE(asks(world.left(visit + 1h), Question::was_it_changed));
  REQUIRE_FALSE(asks(world.left(visit + 73h), Question::was_it_changed));
  world.change(Side::left, world.start + 24h - 2h);  // Tue 6 Jan, 19:30
  REQUIRE_FALSE(asks(world.left(visit + 1h), Question::was_it_changed));
  REQUIRE_FALSE(world.left(visit - 2h).change_for_visit);
}

TEST_CASE("nights of a stay are nights of the place") {
  testing::World world;
  const auto zone = date::locate_zone("America/New_York");
  const auto from = world.start + 24h * 2, to = world.start + 24h * 5;
  world.household.stays.push_back({from, to, zone, {20h}});
  // New York in January is UTC-5: 20:00 there is 01:00 UTC on the next day. Home is 20:30 UTC.
  const auto times = life::changing_times(world.household, world.start, world.start + 24h * 6);
  const auto midnight = date::sys_days(date::year(2026) / 1 / 5);
  const std::vector<Instant> expected{midnight + 20h + 30min,          midnight + 24h + 20h + 30min,
                                      midnight + 24h * 2 + 25h,        midnight + 24h * 3 + 25h,
                                      midnight + 24h * 4 + 25h,        midnight + 24h * 5 + 20h + 30min,
                                      midnight + 24h * 6 + 20h + 30min};
  REQUIRE(times == expected);
  REQUIRE(life::zone_at(world.household, from) == zone);
  REQUIRE(life::zone_at(world.household, to) == world.household.zone);
  const auto nights = world.left(from + 1h).nights;
  REQUIRE(nights[1].from == expected[2]);
  REQUIRE(nights[1].tonight);
  // at noon in New York tonight is the evening's changing time there
  REQUIRE(life::start_of_tonight(world.household, midnight + 24h * 3 + 17h) == expected[3]);
}

TEST_CASE("pacing goes by the clock of the place") {
  testing::World world, home;
  // From Tue 6 Jan, 17:30 on every night is six hours later: the same charge, less what standby draws in these six
  // hours (0.6 of 21 mA)
  const auto at = world.start + 24h;
  world.household.stays.push_back(
      {world.start + 20h, world.start + 24h * 400, date::locate_zone("America/New_York"), {}});
  const double later_h = world.left(at).remaining_h->p50 - home.left(at).remaining_h->p50;
  REQUIRE(later_h < 6);
  REQUIRE(later_h > 5.7);
}

TEST_CASE("a unit that will come into use counts from then on") {
  testing::World planned, by_hand;
  const auto at = planned.start + 24h, swapped = at + 24h * 3;
  // a unit that draws for amplitude 4 what the first one draws for 4.6: 18 + 52 x 1.15 = 18 + 59.8 mA
  auto hungry = testing::plain_unit();
  hungry.left.burst_slope_mA = 59.8;
  planned.household.units.push_back({"u-2", hungry, swapped});
  auto raised = by_hand.household.settings[0];
  raised.from = swapped;
  raised.amplitude = 4.6;
  by_hand.household.settings.push_back(raised);
  const auto side = planned.left(at);
  // Not to the last digit: what the new unit draws over its profile is less well known, and widens the whole.
  REQUIRE(side.remaining_h->p50 == Approx(by_hand.left(at).remaining_h->p50).epsilon(3e-3));
  REQUIRE(says(side, "Planned: unit u-2 from Fri 9 Jan: 10 % faster."));
}

TEST_CASE("in hospital there is no forecast, no date and no question") {
  testing::World world;
  const auto admitted = world.start + 24h * 2 + 16h;  // Thu 8 Jan, 13:30
  world.household.hospital.push_back({admitted, {}});
  REQUIRE(world.left(admitted - 1h).phrase == Phrase::expected_to_last_tonight);
  const auto side = world.left(admitted + 24h * 20);
  REQUIRE(side.phrase == Phrase::no_forecast);
  REQUIRE(side.because == std::vector<std::string>{"In hospital since Thu 8 Jan, 13:30."});
  REQUIRE(side.questions.empty());
  REQUIRE(side.nights.empty());
  REQUIRE_FALSE((side.change_by || side.remaining_h || side.no_later_than || side.set_life_h));
}

TEST_CASE("back home with everything as before the forecast goes on") {
  testing::World world;
  const auto at = world.start + 24h * 5;
  const auto usual = world.left(at);
  world.household.hospital.push_back(
      {world.start + 24h * 2, world.start + 24h * 4, SinceHospital::as_before, SinceHospital::as_before});
  require_the_same(world.left(at), usual);
}

TEST_CASE("back home with settings or unit that nobody knows there is no forecast until they are recorded") {
  testing::World world;
  const auto home = world.start + 24h * 4;
  world.household.hospital.push_back({world.start + 24h * 2, home, SinceHospital::unknown, SinceHospital::changed});
  const auto lost = world.left(home + 1h);
  REQUIRE(lost.phrase == Phrase::no_forecast);
  REQUIRE(lost.because.back() == "The settings and the unit since the stay in hospital are not recorded.");
  REQUIRE(asks(lost, Question::which_settings));
  REQUIRE(asks(lost, Question::which_unit));
  auto settings = world.household.settings[0];
  settings.from = home;
  world.household.settings.push_back(settings);
  REQUIRE_FALSE(asks(world.left(home + 1h), Question::which_settings));
  REQUIRE(asks(world.left(home + 1h), Question::which_unit));
  world.household.units.push_back({"u-2", testing::plain_unit(), home});
  const auto known = world.left(home + 1h);
  REQUIRE(known.questions.empty());
  REQUIRE(known.phrase == Phrase::expected_to_last_tonight);
}

TEST_CASE("back home with cells that nobody knows: fresh cells at the next changing time") {
  testing::World world;
  const auto home = world.start + 24h * 4 - 6h;
  world.household.hospital.push_back({world.start + 24h * 2, home, SinceHospital::as_before, SinceHospital::as_before});
  auto& found = world.change(Side::left, home, life::ChangeReason::unknown);
  found.cells = {};
  found.cells.age = life::CellAge::unknown;
  const auto side = world.left(home + 1h);
  REQUIRE(asks(side, Question::which_cells));
  REQUIRE((side.phrase == Phrase::change_before_tonight || side.phrase == Phrase::change_now));
}

TEST_CASE("a set that was partly in hospital teaches nothing") {
  testing::World world;
  const auto ended = world.start + 24h * 9;
  world.change(Side::left, ended);
  REQUIRE(world.left(ended + 1h).sets_seen == 1);
  world.household.hospital.push_back(
      {world.start + 24h * 2, world.start + 24h * 4, SinceHospital::as_before, SinceHospital::as_before});
  REQUIRE(world.left(ended + 1h).sets_seen == 0);
}
