// SPDX-License-Identifier: MIT
// The calendar writer against RFC 5545 and RFC 7986: their own examples, and what any reader of a feed relies on.
#include "server/calendar/calendar.hpp"

#include <algorithm>
#include <sstream>
#include <stdexcept>

#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::calendar;
using std::chrono::minutes;

namespace {

Event event(Instant starts) {
  Event one;
  one.uid = "one";
  one.stamped = starts - std::chrono::hours(30);
  one.starts = starts;
  one.summary = "Something to do";
  return one;
}

Instant in_oslo(int month, int day, int hour, int minute) {
  const auto wall = date::local_days(date::year(2026) / month / day) + std::chrono::hours(hour) + minutes(minute);
  return date::floor<std::chrono::seconds>(date::locate_zone("Europe/Oslo")->to_sys(wall));
}

/// Content lines as a reader puts them together again: a line break and one space are nothing (RFC 5545, 3.1).
std::vector<std::string> unfolded(std::string text) {
  for (auto at = text.find("\r\n "); at != std::string::npos; at = text.find("\r\n ", at)) text.erase(at, 3);
  std::vector<std::string> lines;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) lines.push_back(line.substr(0, line.find('\r')));
  return lines;
}

bool has(const Calendar& calendar, const std::string& line) {
  const auto lines = unfolded(written(calendar));
  return std::find(lines.begin(), lines.end(), line) != lines.end();
}

}  // namespace

TEST_CASE("a changing time is the same wall clock on both sides of a change of daylight saving", "[calendar]") {
  // Oslo, 25 October 2026, 03:00 becomes 02:00 (IANA, Europe/Oslo follows EU rules): 21:30 is 19:30Z, then 20:30Z.
  const Calendar calendar{
      "Reminders", std::chrono::hours(8), {event(in_oslo(10, 24, 21, 30)), event(in_oslo(10, 25, 21, 30))}};
  CHECK(has(calendar, "DTSTART:20261024T193000Z"));
  CHECK(has(calendar, "DTSTART:20261025T203000Z"));
}

TEST_CASE("a feed says how often to look again, as RFC 7986 has it", "[calendar]") {
  CHECK(
      has({"Reminders", std::chrono::hours(24 * 7), {}}, "REFRESH-INTERVAL;VALUE=DURATION:P1W"));  // its example in 5.7
  CHECK(has({"Company Vacation Days", std::chrono::hours(8), {}}, "NAME:Company Vacation Days"));  // its example in 5.1
  CHECK(has({"Reminders", std::chrono::hours(8), {}}, "X-PUBLISHED-TTL:PT8H"));
}

TEST_CASE("lines have at most 75 octets, end in CRLF and never cut a letter", "[calendar]") {
  auto long_one = event(in_oslo(11, 29, 21, 30));
  for (int i = 0; i < 60; ++i) long_one.description += "ærø\xe2\x82\xac ";
  const auto text = written({"Reminders", std::chrono::hours(8), {long_one}});
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) {
    REQUIRE(line.back() == '\r');
    CHECK(line.size() - 1 <= 75);  // RFC 5545, 3.1, without the line break
    const auto first = static_cast<unsigned char>(line[line[0] == ' ' ? 1 : 0]);
    CHECK((first & 0xC0u) != 0x80u);  // RFC 3629: no line begins inside a letter
  }
  CHECK(has({"Reminders", std::chrono::hours(8), {long_one}}, "DESCRIPTION:" + long_one.description));
}

TEST_CASE("text keeps its commas, semicolons, backslashes and line breaks", "[calendar]") {
  auto one = event(in_oslo(11, 29, 21, 30));
  one.description = "cells, left; a\\b\nsecond line";
  CHECK(has({"Reminders", std::chrono::hours(8), {one}},
            "DESCRIPTION:cells\\, left\\; a\\\\b\\nsecond line"));  // RFC 5545, 3.3.11
}

TEST_CASE("what moves keeps its uid and counts up; a day is a date; an alarm stands before", "[calendar]") {
  auto moved = event(in_oslo(11, 29, 21, 30));
  moved.sequence = 2;
  moved.alarms = {{minutes(15), "Look at the page"}};
  const Calendar calendar{"Reminders", std::chrono::hours(8), {moved}};
  CHECK(has(calendar, "UID:one"));
  CHECK(has(calendar, "SEQUENCE:2"));      // its example in 3.8.7.4
  CHECK(has(calendar, "TRIGGER:-PT15M"));  // its example in 3.8.6.3
  CHECK(has(calendar, "ACTION:DISPLAY"));
  Event day = event(in_oslo(11, 29, 21, 30));
  day.starts.reset();
  day.whole_day = date::local_days(date::year(1998) / 1 / 18);
  CHECK(has({"Orders", std::chrono::hours(8), {day}}, "DTSTART;VALUE=DATE:19980118"));  // 3.8.2.4, as a date of 3.3.4
  day.cancelled = true;
  CHECK(has({"Orders", std::chrono::hours(8), {day}}, "STATUS:CANCELLED"));
}

TEST_CASE("an event has a moment or a day, one of them", "[calendar]") {
  auto both = event(in_oslo(11, 29, 21, 30));
  both.whole_day = date::local_days(date::year(2026) / 11 / 29);
  CHECK_THROWS_AS(written({"Reminders", std::chrono::hours(8), {both}}), std::invalid_argument);
  both.starts.reset();
  both.whole_day.reset();
  CHECK_THROWS_AS(written({"Reminders", std::chrono::hours(8), {both}}), std::invalid_argument);
}
