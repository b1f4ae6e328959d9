// SPDX-License-Identifier: MIT
#include "model/life/changing_times.hpp"

#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace std::chrono_literals;

namespace {

/// A wall-clock moment in Oslo given in UTC, so that the expected values are offsets of the tz database.
Instant utc(int year, unsigned month, unsigned day, std::chrono::minutes of_day) {
  return date::sys_days(date::year(year) / static_cast<int>(month) / static_cast<int>(day)) + of_day;
}

}  // namespace

TEST_CASE("changing times keep the wall clock across daylight saving") {
  // tz database: Oslo is at +01:00 until 2026-03-29 01:00 UTC, then at +02:00.
  const auto zone = date::locate_zone("Europe/Oslo");
  const auto times = life::changing_times(zone, {21h + 30min}, utc(2026, 3, 28, 12h), utc(2026, 3, 30, 12h));
  REQUIRE(times.size() == 4);
  REQUIRE(times[0] == utc(2026, 3, 27, 20h + 30min));
  REQUIRE(times[1] == utc(2026, 3, 28, 20h + 30min));
  REQUIRE(times[2] == utc(2026, 3, 29, 19h + 30min));
  REQUIRE(times[2] - times[1] == 23h);
  REQUIRE(times[3] == utc(2026, 3, 30, 19h + 30min));
}

TEST_CASE("a time that daylight saving skips is the moment of the jump, one that comes twice the first") {
  const auto zone = date::locate_zone("Europe/Oslo");
  const auto spring = life::changing_times(zone, {2h + 30min}, utc(2026, 3, 29, 0h), utc(2026, 3, 29, 2h));
  REQUIRE(spring[1] == utc(2026, 3, 29, 1h));  // the jump itself
  const auto autumn = life::changing_times(zone, {2h + 30min}, utc(2026, 10, 24, 23h), utc(2026, 10, 25, 2h));
  REQUIRE(autumn[1] == utc(2026, 10, 25, 30min));  // 02:30 at +02:00, the first of the two
}

TEST_CASE("tonight is the running night before six and the coming one after") {
  const auto zone = date::locate_zone("Europe/Oslo");
  // With changing times at 04:00 and 21:30, at 05:00 the night of the small hours is over: tonight is what runs.
  REQUIRE(life::start_of_tonight(zone, {4h, 21h + 30min}, utc(2026, 1, 10, 4h)) == utc(2026, 1, 10, 3h));
  REQUIRE(life::start_of_tonight(zone, {21h + 30min}, utc(2026, 1, 10, 19h + 40min)) == utc(2026, 1, 10, 20h + 30min));
  REQUIRE(life::start_of_tonight(zone, {21h + 30min}, utc(2026, 1, 10, 2h)) == utc(2026, 1, 9, 20h + 30min));
  REQUIRE(life::small_hours_of_tonight(zone, utc(2026, 1, 10, 2h)) == utc(2026, 1, 10, 2h));           // 03:00
  REQUIRE(life::small_hours_of_tonight(zone, utc(2026, 1, 10, 4h + 59min)) == utc(2026, 1, 10, 2h));   // 05:59
  REQUIRE(life::small_hours_of_tonight(zone, utc(2026, 1, 10, 5h)) == utc(2026, 1, 11, 2h));           // 06:00
  REQUIRE(life::small_hours_of_tonight(zone, utc(2026, 1, 10, 19h + 40min)) == utc(2026, 1, 11, 2h));  // 20:40
}
