// SPDX-License-Identifier: MIT
#include "model/duty/paced_hours.hpp"

#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::duty;
using namespace std::chrono;

namespace {

const Instant first = sys_days(2026y / 5 / 1);

double hours_of(const Intervals& intervals) { return duration<double, std::ratio<3600>>(total(intervals)).count(); }

/// Ten hours a night, 21:00 to 07:00, by the zone's clock.
Intervals nights(Zone zone, Interval window) {
  PacedSpan span;
  span.weekday.fill(true);
  span.from = 21h;
  span.to = 7h;
  return paced_by_settings({span}, zone, window);
}

Intervals in_fact(const std::vector<PacedInstead>& instead, Interval window, const char* zone_name = "UTC") {
  const Zone zone = date::locate_zone(zone_name);
  return paced_in_fact(nights(zone, window), instead, {}, zone, window);
}

}  // namespace

TEST_CASE("twenty-four hours a day is pacing without a break between its times") {
  const auto paced = in_fact({{Side::left, first + 36h, first + 60h, 24}}, {first, first + days(5)});
  // 21:00 on the 2nd lies within, so the break begins at noon on the 3rd
  CHECK(paced[2] == Interval{first + 36h, first + 60h});
}

TEST_CASE("any other hours a day are paced in full over whole days") {
  for (const double hours : {0.0, 0.5, 4.0, 10.0, 13.0, 23.5}) {
    const Interval entry{first + 36h, first + 36h + days(3)};
    const auto paced = in_fact({{Side::left, entry.from, entry.to, hours}}, {first, first + days(8)});
    CHECK(hours_of(within(paced, entry)) == Approx(3 * hours).margin(3e-3));
    CHECK(
        hours_of(paced) ==
        Approx(8 * 10 - hours_of(within(nights(date::locate_zone("UTC"), {first, first + days(8)}), entry)) + 3 * hours)
            .margin(3e-3));
  }
}

TEST_CASE("a part of a day has its part of the hours") {
  const Interval entry{first + 8h, first + 14h};
  const auto paced = in_fact({{Side::left, entry.from, entry.to, 12}}, {first, first + days(2)});
  CHECK(hours_of(within(paced, entry)) == Approx(3).margin(1e-3));
}

TEST_CASE("longer nights grow from both their ends, shorter ones shrink to their middle") {
  // From noon: 12 of 24 h; the pauses noon-21:00 and 07:00-noon, 14 h together, shrink to 12/14 about their middles.
  const Interval entry{first + 12h, first + 36h};
  const auto longer = within(in_fact({{Side::left, entry.from, entry.to, 12}}, {first, first + days(3)}), entry);
  REQUIRE(longer.size() == 3);
  CHECK(hours_of({longer[1]}) == Approx(12 - 9.0 / 14 - 5.0 / 14).margin(1e-3));
  const auto shorter = within(in_fact({{Side::left, entry.from, entry.to, 6}}, {first, first + days(3)}), entry);
  REQUIRE(shorter.size() == 1);
  CHECK(shorter[0] == Interval{first + 23h, first + 29h});
}

TEST_CASE("where the settings pace all day the hours are one block in the middle of each day") {
  const Interval window{first, first + days(2)};
  const auto paced = paced_in_fact({window}, {{Side::left, first, {}, 10}}, {}, date::locate_zone("UTC"), window);
  REQUIRE(paced.size() == 2);
  CHECK(paced[0] == Interval{first + 7h, first + 17h});
  CHECK(paced[1] == Interval{first + 31h, first + 41h});
}

TEST_CASE("where the settings do not pace at all the hours are one block in the middle of each day") {
  const Interval window{first, first + days(1)};
  const auto paced = paced_in_fact({}, {{Side::left, first, {}, 0.5}}, {}, date::locate_zone("UTC"), window);
  REQUIRE(paced.size() == 1);
  CHECK(paced[0] == Interval{first + 11h + 45min, first + 12h + 15min});
}

TEST_CASE("an entry without an end holds until the next one begins") {
  const Interval window{first, first + days(6)};
  const auto paced = in_fact({{Side::left, first + days(1), {}, 24}, {Side::left, first + days(3), {}, 0}}, window);
  CHECK(hours_of(within(paced, {first + days(1), first + days(3)})) == 48);
  CHECK(hours_of(within(paced, {first + days(3), first + days(6)})) == 0);
}

TEST_CASE("of two entries that overlap the one that began last counts, then the first goes on") {
  const Interval window{first, first + days(6)};
  const auto paced =
      in_fact({{Side::left, first + days(2), first + days(3), 0}, {Side::left, first, first + days(5), 24}}, window);
  CHECK(hours_of(within(paced, {first, first + days(2)})) == 48);
  CHECK(hours_of(within(paced, {first + days(2), first + days(3)})) == 0);
  CHECK(hours_of(within(paced, {first + days(3), first + days(5)})) == 48);
}

TEST_CASE("hours a day are hours on a day of twenty-three and of twenty-five as well") {
  // Europe/Oslo, 2026-03-29 and 2026-10-25; the entry's days begin at noon by the wall clock
  const Zone oslo = date::locate_zone("Europe/Oslo");
  for (const auto& [day, length] :
       {std::pair{sys_days(2026y / 3 / 28), 23h}, std::pair{sys_days(2026y / 10 / 24), 25h}}) {
    const Instant noon = date::make_zoned(oslo, date::local_days(day.time_since_epoch()) + 12h).get_sys_time();
    const Interval window{noon - days(2), noon + days(4)};
    const auto paced = in_fact({{Side::left, noon, noon + length, 12}}, window, "Europe/Oslo");
    CHECK(hours_of(within(paced, {noon, noon + length})) == Approx(12).margin(1e-3));
  }
}
