// SPDX-License-Identifier: MIT
#include "model/quantities/time.hpp"

#include <string>
#include <type_traits>

#include "model/quantities/quantities.hpp"
#include "model/quantities/side.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace std::chrono;

TEST_CASE("hours between two instants are signed") {
  const Instant noon = sys_days(2026y / 3 / 1) + 12h;
  CHECK(hours_between(noon, noon + 90min) == 1.5);
  CHECK(hours_between(noon + 90min, noon) == -1.5);
}

TEST_CASE("a moment so many hours later is rounded down to the second") {
  const Instant noon = sys_days(2026y / 3 / 1) + 12h;
  CHECK(hours_after(noon, 1.5) == noon + 90min);
  CHECK(hours_after(noon, 1.9 / 3600) == noon + 1s);
  CHECK(hours_after(noon, -0.1 / 3600) == noon - 1s);
}

TEST_CASE("instants count true hours where wall clocks jump") {
  // Europe/Oslo, 2026-03-29: 02:00 becomes 03:00, so noon to noon is 23 h (directive 2000/84/EC)
  const Zone oslo = date::locate_zone("Europe/Oslo");
  const auto noon = [&](date::local_days day) { return oslo->to_sys(date::local_seconds(day + 12h)); };
  const date::local_days day(date::year(2026) / 3 / 28);
  CHECK(hours_between(noon(day), noon(day + days(1))) == 23);
}

TEST_CASE("a quantity of one unit cannot be handed over as another, nor a bare number as either") {
  CHECK_FALSE(std::is_convertible_v<Milliamperes, Milliwatts>);
  CHECK_FALSE(std::is_constructible_v<Milliamperes, Milliwatts>);
  CHECK_FALSE(std::is_convertible_v<double, Volts>);
  CHECK(Volts(1.2) < Volts(1.3));
  CHECK(Hours(24).value == 24);
}

TEST_CASE("there are two sides, each with its own name") {
  CHECK(both_sides.size() == 2);
  CHECK(std::string(name_of(Side::left)) == "left");
  CHECK(std::string(name_of(Side::right)) == "right");
}
