// SPDX-License-Identifier: MIT
#include "model/duty/timeline.hpp"

#include "tests/model/duty/linear_cell.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::duty;
using namespace std::chrono;

namespace {

PacedSpan every_night(minutes from, minutes to) {
  PacedSpan span;
  span.weekday.fill(true);
  span.from = from;
  span.to = to;
  return span;
}

Settings settings_from(Instant from, std::vector<PacedSpan> paced) {
  Settings settings;
  settings.from = from;
  settings.amplitude = 4;
  settings.inspiratory_fraction = 0.28;
  settings.paced = std::move(paced);
  return settings;
}

TimelineInput input(const char* zone, std::vector<Settings> settings) {
  TimelineInput made;
  made.stimulator = example::unit();
  made.zone = date::locate_zone(zone);
  made.settings = std::move(settings);
  return made;
}

double hours_of(const std::vector<Stretch>& stretches, Activity activity) {
  double sum = 0;
  for (const Stretch& one : stretches) sum += one.activity == activity ? hours_between(one.from, one.to) : 0;
  return sum;
}

/// The first stretch of pacing.
Stretch first_pacing(const std::vector<Stretch>& stretches) {
  for (const Stretch& one : stretches) {
    if (one.activity == Activity::pacing) return one;
  }
  FAIL("nothing paced");
  return {};
}

void check_no_gap(const std::vector<Stretch>& stretches, Instant from, Instant to) {
  REQUIRE_FALSE(stretches.empty());
  CHECK(stretches.front().from == from);
  CHECK(stretches.back().to == to);
  for (std::size_t i = 1; i < stretches.size(); ++i) CHECK(stretches[i].from == stretches[i - 1].to);
}

}  // namespace

TEST_CASE("the night into daylight saving is paced an hour less, the night out of it an hour more") {
  // Europe/Oslo springs from 02:00 to 03:00 on 2026-03-29 and falls back on 2026-10-25 (directive 2000/84/EC:
  // 01:00 UTC on the last Sundays of March and October).
  const auto in = input("Europe/Oslo", {settings_from(sys_days(2026y / 1 / 1), {every_night(21h, 7h)})});
  const auto night = [&](sys_days noon) {
    const auto stretches = timeline(in, noon + 12h, noon + 36h);
    check_no_gap(stretches, noon + 12h, noon + 36h);
    return hours_of(stretches, Activity::pacing);
  };
  CHECK(night(2026y / 3 / 27) == 10);
  CHECK(night(2026y / 3 / 28) == 9);
  CHECK(night(2026y / 10 / 24) == 11);
  CHECK(night(2026y / 10 / 25) == 10);
}

TEST_CASE("a span that starts in the hour that does not exist starts at the jump") {
  // America/New_York, 2026-03-08: 02:00 EST is 03:00 EDT, at 07:00 UTC (Energy Policy Act of 2005).
  const auto in = input("America/New_York", {settings_from(sys_days(2026y / 1 / 1), {every_night(2h + 30min, 5h)})});
  const auto paced = first_pacing(timeline(in, sys_days(2026y / 3 / 8), sys_days(2026y / 3 / 8) + 12h));
  CHECK(paced.from == Instant(sys_days(2026y / 3 / 8) + 7h));
  CHECK(paced.to == Instant(sys_days(2026y / 3 / 8) + 9h));
}

TEST_CASE("a span between hours that come twice starts at the first and ends at the second") {
  // America/New_York, 2026-11-01: 01:30 is at 05:30 UTC and again at 06:30 UTC.
  const auto in =
      input("America/New_York", {settings_from(sys_days(2026y / 1 / 1), {every_night(1h + 10min, 1h + 30min)})});
  const auto paced = first_pacing(timeline(in, sys_days(2026y / 11 / 1), sys_days(2026y / 11 / 1) + 12h));
  CHECK(paced.from == Instant(sys_days(2026y / 11 / 1) + 5h + 10min));
  CHECK(paced.to == Instant(sys_days(2026y / 11 / 1) + 6h + 30min));
}

TEST_CASE("Lord Howe's half hour makes the night half an hour shorter or longer") {
  // Clocks move by 30 min: forward at 02:00 on 2026-10-04, back at 02:00 on 2026-04-05 (tz database, australasia).
  const auto in = input("Australia/Lord_Howe", {settings_from(sys_days(2026y / 1 / 1), {every_night(21h, 7h)})});
  const auto night = [&](sys_days day) { return hours_of(timeline(in, day + 1h, day + 25h), Activity::pacing); };
  CHECK(night(2026y / 4 / 4) == 10.5);
  CHECK(night(2026y / 10 / 3) == 9.5);
}

TEST_CASE("the day that Apia skipped joins the evening before to the morning after") {
  // Pacific/Apia had no 2011-12-30: midnight after the 29th was the 31st, at 10:00 UTC on the 30th (tz database).
  // 21:00 to 24:00 on the 29th, then 00:00 to 07:00 on the 31st: ten hours without a break.
  const auto in = input("Pacific/Apia", {settings_from(sys_days(2011y / 12 / 1), {every_night(21h, 7h)})});
  const auto stretches = timeline(in, sys_days(2011y / 12 / 30), sys_days(2011y / 12 / 31));
  const auto paced = first_pacing(stretches);
  CHECK(paced.from == Instant(sys_days(2011y / 12 / 30) + 7h));
  CHECK(paced.to == Instant(sys_days(2011y / 12 / 30) + 17h));
  CHECK(hours_of(stretches, Activity::pacing) == 10);
}

TEST_CASE("spans from midnight to midnight join into pacing without a break, across every jump") {
  for (const char* zone :
       {"Europe/Oslo", "America/New_York", "Pacific/Apia", "Australia/Lord_Howe", "America/Sao_Paulo"}) {
    const auto in = input(zone, {settings_from(sys_days(2010y / 12 / 1), {every_night(0h, 24h)})});
    const Instant from = sys_days(2011y / 1 / 1), to = sys_days(2013y / 1 / 1);
    const auto stretches = timeline(in, from, to);
    REQUIRE(stretches.size() == 1);
    CHECK(stretches[0].activity == Activity::pacing);
  }
}

TEST_CASE("overlapping spans are paced once") {
  const auto in = input("UTC", {settings_from(sys_days(2026y / 1 / 1), {every_night(20h, 2h), every_night(22h, 6h)})});
  CHECK(hours_of(timeline(in, sys_days(2026y / 5 / 1) + 12h, sys_days(2026y / 5 / 2) + 12h), Activity::pacing) == 10);
}

TEST_CASE("a span on marked weekdays belongs to the day on which it starts") {
  PacedSpan saturday_night;
  saturday_night.weekday[5] = true;
  saturday_night.from = 21h;
  saturday_night.to = 7h;
  const auto in = input("UTC", {settings_from(sys_days(2026y / 1 / 1), {saturday_night})});
  // 2026-05-02 is a Saturday
  const auto stretches = timeline(in, sys_days(2026y / 4 / 30), sys_days(2026y / 5 / 7));
  CHECK(hours_of(stretches, Activity::pacing) == 10);
  CHECK(first_pacing(stretches).from == Instant(sys_days(2026y / 5 / 2) + 21h));
}

TEST_CASE("settings without spans pace the whole time") {
  const auto in = input("UTC", {settings_from(sys_days(2026y / 1 / 1), {})});
  const auto stretches = timeline(in, sys_days(2026y / 5 / 1), sys_days(2026y / 5 / 3));
  REQUIRE(stretches.size() == 1);
  CHECK(stretches[0].load.mean_mA() == Approx(0.28 * 70 + 0.72 * 2.2));
}

TEST_CASE("new settings hold from their moment, in the middle of a night") {
  Settings stronger = settings_from(sys_days(2026y / 5 / 2) + 1h, {every_night(21h, 5h)});
  stronger.amplitude = 8;
  const auto in = input("UTC", {settings_from(sys_days(2026y / 1 / 1), {every_night(21h, 7h)}), stronger});
  const auto stretches = timeline(in, sys_days(2026y / 5 / 1) + 12h, sys_days(2026y / 5 / 2) + 12h);
  REQUIRE(stretches.size() == 4);
  CHECK(stretches[1].settings == 0);
  CHECK(stretches[1].load.burst_mA == Approx(70));
  CHECK(stretches[2].from == Instant(sys_days(2026y / 5 / 2) + 1h));
  CHECK(stretches[2].to == Instant(sys_days(2026y / 5 / 2) + 5h));
  CHECK(stretches[2].settings == 1);
  CHECK(stretches[2].load.burst_mA == Approx(18 + 104));
  check_no_gap(stretches, sys_days(2026y / 5 / 1) + 12h, sys_days(2026y / 5 / 2) + 12h);
}

TEST_CASE("before the first settings nothing is known and nothing is drawn") {
  const auto in = input("UTC", {settings_from(sys_days(2026y / 5 / 2), {})});
  const auto stretches = timeline(in, sys_days(2026y / 5 / 1), sys_days(2026y / 5 / 3));
  REQUIRE(stretches.size() == 2);
  CHECK(stretches[0].activity == Activity::off);
  CHECK(stretches[0].load.mean_mA() == 0);
  CHECK(stretches[1].from == Instant(sys_days(2026y / 5 / 2)));
  CHECK(timeline(input("UTC", {}), sys_days(2026y / 5 / 1), sys_days(2026y / 5 / 3)).size() == 1);
}

TEST_CASE("a side that was switched off draws its off current, whatever was set") {
  auto in = input("UTC", {settings_from(sys_days(2026y / 1 / 1), {every_night(21h, 7h)})});
  in.switched_off = {{Side::left, sys_days(2026y / 5 / 2) + 2h, sys_days(2026y / 5 / 2) + 9h}};
  in.paced_instead = {{Side::left, sys_days(2026y / 5 / 2) + 1h, {}, 24}};
  const auto stretches = timeline(in, sys_days(2026y / 5 / 1) + 12h, sys_days(2026y / 5 / 2) + 12h);
  CHECK(hours_of(stretches, Activity::pacing) == 5 + 3);
  CHECK(hours_of(stretches, Activity::off) == 7);
  for (const Stretch& one : stretches) {
    if (one.activity == Activity::off) CHECK(one.load.mean_mA() == 0.02);
  }
}

TEST_CASE("a side still switched off stays off to the end") {
  auto in = input("UTC", {settings_from(sys_days(2026y / 1 / 1), {})});
  in.switched_off = {{Side::left, sys_days(2026y / 5 / 2), {}}};
  const auto stretches = timeline(in, sys_days(2026y / 5 / 1), sys_days(2026y / 6 / 1));
  REQUIRE(stretches.size() == 2);
  CHECK(stretches[1].activity == Activity::off);
}

TEST_CASE("a window without length has no stretches") {
  const auto in = input("UTC", {settings_from(sys_days(2026y / 1 / 1), {})});
  CHECK(timeline(in, sys_days(2026y / 5 / 1), sys_days(2026y / 5 / 1)).empty());
}
