// SPDX-License-Identifier: MIT
// Expected values: worked by hand from nights of ten hours, 21:00 to 07:00 UTC.
#include "model/duty/paced_more.hpp"

#include "model/duty/paced_hours.hpp"
#include "model/duty/timeline.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::duty;
using namespace std::chrono;

namespace {

const Instant first = sys_days(2026y / 5 / 1);

Settings nights() {
  PacedSpan span;
  span.weekday.fill(true);
  span.from = 21h;
  span.to = 7h;
  Settings settings;
  settings.from = first - days(30);
  settings.inspiratory_fraction = 0.5;
  settings.amplitude = 2;
  settings.paced = {span};
  return settings;
}

double hours_in(const std::vector<PacedInstead>& instead, const std::vector<PacedMore>& more, Interval asked) {
  const Zone zone = date::locate_zone("UTC");
  const Interval wide{first - days(10), first + days(60)};
  const auto paced = paced_in_fact(paced_by_settings(nights().paced, zone, wide), instead, more, zone, wide);
  return duration<double, std::ratio<3600>>(total(within(paced, asked))).count();
}

Interval may_day(int number) { return {first + days(number), first + days(number + 1)}; }

}  // namespace

TEST_CASE("more pacing without an end counts for all of the future") {
  const std::vector<PacedMore> all_day{{Side::left, first + days(2), {}, 24, {}}};
  CHECK(hours_in({}, all_day, may_day(1)) == Approx(10));
  CHECK(hours_in({}, all_day, may_day(2)) == Approx(24));
  CHECK(hours_in({}, all_day, may_day(50)) == Approx(24));
}

TEST_CASE("more pacing ends with its end") {
  const std::vector<PacedMore> more{{Side::left, first + days(2), first + days(4), 16, {}}};
  CHECK(hours_in({}, more, may_day(3)) == Approx(16));
  CHECK(hours_in({}, more, may_day(5)) == Approx(10));
}

TEST_CASE("more pacing is never less than the settings say") {
  CHECK(hours_in({}, {{Side::left, first + days(2), {}, 6, {}}}, {first + days(3), first + days(13)}) == Approx(100));
}

TEST_CASE("what was paced in fact counts before what was meant, and only for its time") {
  const std::vector<PacedMore> more{{Side::left, first + days(2), {}, 24, {}}};
  const std::vector<PacedInstead> six_hours{{Side::left, first + days(5), first + days(6), 6}};
  CHECK(hours_in(six_hours, more, may_day(4)) == Approx(24));
  CHECK(hours_in(six_hours, more, may_day(5)) == Approx(6));
  CHECK(hours_in(six_hours, more, may_day(6)) == Approx(24));
}

TEST_CASE("hours said before an infection began do not hold against it") {
  const std::vector<PacedInstead> four_hours{{Side::left, first, {}, 4}};
  const std::vector<PacedMore> more{{Side::left, first + days(5), first + days(7), 24, {}}};
  CHECK(hours_in(four_hours, more, may_day(4)) == Approx(4));
  CHECK(hours_in(four_hours, more, may_day(6)) == Approx(24));
  CHECK(hours_in(four_hours, more, may_day(8)) == Approx(4));
}

TEST_CASE("the amplitude is the higher of the two, and the settings' again afterwards") {
  auto later = nights();
  later.from = first + days(6);
  later.amplitude = 5;
  const std::vector<PacedMore> more{{Side::left, first + days(2), first + days(10), {}, 3}};
  const auto in_fact = with_raised_amplitude({nights(), later}, more);
  REQUIRE(in_fact.size() == 4);
  CHECK(in_fact[0].amplitude == 2);
  CHECK(in_fact[1].from == first + days(2));
  CHECK(in_fact[1].amplitude == 3);
  CHECK(in_fact[2].amplitude == 5);  // the clinician's is higher
  CHECK(in_fact[3].from == first + days(10));
  CHECK(in_fact[3].amplitude == 5);
  CHECK(with_raised_amplitude({nights()}, {{Side::left, first, {}, 24, {}}}).size() == 1);
}

TEST_CASE("away from home the spans keep the clock of the place") {
  TimelineInput input;
  input.zone = date::locate_zone("UTC");
  input.settings = {nights()};
  input.stimulator.left = {0, 100, 2, 1, 0, 0, 0};
  input.away = {{first + days(3), first + days(6), date::locate_zone("America/New_York")}};
  // New York is four hours behind UTC in May: 21:00 there is 01:00 UTC on the next day
  const auto stretches = timeline(input, first + days(4), first + days(5));
  REQUIRE(stretches.size() == 3);
  CHECK(stretches[0].activity == Activity::standby);
  CHECK(stretches[1].from == first + days(4) + 1h);
  CHECK(stretches[1].to == first + days(4) + 11h);
  CHECK(stretches[1].activity == Activity::pacing);
}
