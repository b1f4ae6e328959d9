// SPDX-License-Identifier: MIT
// Expected values: the rule of growth.hpp, worked by hand.
#include "model/duty/growth.hpp"

#include "model/duty/timeline.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::duty;
using namespace std::chrono;

namespace {

PacedSpan every_day(minutes from, minutes to) {
  PacedSpan span;
  span.weekday.fill(true);
  span.from = from;
  span.to = to;
  return span;
}

double hours_of(const Intervals& intervals) { return duration<double, std::ratio<3600>>(total(intervals)).count(); }

/// Monday 2 March 2026, 09:00 UTC.
const Instant monday = sys_days(2026y / 3 / 2) + 9h;

Settings growing(std::vector<PacedSpan> spans, minutes a_week, minutes up_to) {
  Settings settings;
  settings.from = monday;
  settings.paced = std::move(spans);
  settings.growth = Growth{monday, a_week, up_to};
  return settings;
}

}  // namespace

TEST_CASE("spans that grow are an hour longer each week until the limit") {
  // 1, 2, 3 and again 3 hours on each of 7 evenings: 63 hours in four weeks
  const auto settings = growing({every_day(20h, 21h)}, 60min, 3h);
  const auto zone = date::locate_zone("UTC");
  const auto paced = paced_by_growing(settings, zone, {monday, monday + days(28)});
  CHECK(hours_of(paced) == Approx(63));
  CHECK(paced.front() == Interval{monday + 11h, monday + 12h});
  CHECK(paced[6] == Interval{monday + days(6) + 11h, monday + days(6) + 12h});
  CHECK(paced[7] == Interval{monday + days(7) + 11h, monday + days(7) + 13h});
  CHECK(paced[21] == Interval{monday + days(21) + 11h, monday + days(21) + 14h});
  // any part of it is that part: windows do not restart the weeks
  CHECK(hours_of(paced_by_growing(settings, zone, {monday + days(16), monday + days(17)})) == Approx(3));
  CHECK(hours_of(paced_by_growing(settings, zone, {monday - days(3), monday})) == Approx(3));
}

TEST_CASE("all spans of a day grow in equal parts and never into each other") {
  const std::vector<PacedSpan> spans{every_day(9h, 9h + 15min), every_day(9h + 20min, 9h + 35min),
                                     every_day(15h, 15h + 15min)};
  const Growth growth{monday, 30min, 14h};
  CHECK(paced_of_day(spans, 0) == 45min);
  for (int weeks = 0; weeks < 30; ++weeks) {
    const auto expected = std::min(45min + weeks * 30min, minutes(14h));
    CHECK(paced_of_day(grown_spans(spans, growth, weeks), 2) == expected);
  }
  // one week: 10 minutes each would be; the first has room for 5, its rest goes to the other two
  const auto week = grown_spans(spans, growth, 1);
  CHECK(week[0].to == 9h + 20min);
  CHECK(week[1].to - week[1].from + week[2].to - week[2].from == 55min);
}

TEST_CASE("a weekday without spans stays without, and a night does not grow into the next day's") {
  PacedSpan monday_night = every_day(22h, 6h), tuesday_morning = every_day(7h, 8h);
  monday_night.weekday = {true};
  tuesday_morning.weekday = {false, true};
  const auto grown = grown_spans({monday_night, tuesday_morning}, {monday, 180min, 24h}, 1);
  REQUIRE(grown.size() == 2);
  CHECK(grown[0].to == 7h);   // one hour of room before Tuesday's span
  CHECK(grown[1].to == 11h);  // three hours more
  CHECK(paced_of_day(grown, 4) == 0min);
}

TEST_CASE("a day that grows to twenty-four hours is paced without a pause") {
  const auto settings = growing({every_day(0h, 22h)}, 60min, 24h);
  const auto paced = paced_by_growing(settings, date::locate_zone("UTC"), {monday, monday + days(30)});
  CHECK(paced.back() == Interval{sys_days(2026y / 3 / 16), monday + days(30)});
}

TEST_CASE("weeks of growth are weeks by the wall clock") {
  // Europe/Oslo leaves winter time on 29 March 2026: the second week begins at 09:00 = 07:00 UTC, not 08:00 UTC
  auto settings = growing({every_day(8h + 30min, 9h + 30min)}, 60min, 14h);
  settings.growth->since = sys_days(2026y / 3 / 23) + 8h;
  const auto day_30 = sys_days(2026y / 3 / 30);
  const auto paced = paced_by_growing(settings, date::locate_zone("Europe/Oslo"), {day_30, day_30 + days(1)});
  REQUIRE(paced.size() == 1);
  CHECK(paced[0] == Interval{day_30 + 6h + 30min, day_30 + 8h + 30min});
}

TEST_CASE("a timeline draws what the growing spans pace") {
  TimelineInput input;
  input.zone = date::locate_zone("UTC");
  input.settings = {growing({every_day(20h, 21h)}, 60min, 3h)};
  input.stimulator.left = {0, 100, 1, 1, 0, 0, 0};
  input.settings[0].inspiratory_fraction = 0.5;
  // 50 mA while pacing: 63 hours of it
  const ChargeClock clock(timeline(input, monday, monday + days(28)));
  CHECK(clock.charge_mAh(monday + days(28)) == Approx(50 * 63));
}
