// SPDX-License-Identifier: MIT
// What the page says of why: each reason is what the forecast counts with, or is not said.
#include "model/life/reasons.hpp"

#include <algorithm>
#include <cmath>

#include "tests/support/catch.hpp"
#include "tests/support/life_world.hpp"

using namespace cellarer;
using namespace std::chrono_literals;

namespace {

bool gives(const life::SideForecast& side, const std::string& reason) {
  return std::find(side.because.begin(), side.because.end(), reason) != side.because.end();
}

/// The reason that begins so; empty: none does.
std::string reason_of(const life::SideForecast& side, const std::string& beginning) {
  const auto found = std::find_if(side.because.begin(), side.because.end(),
                                  [&](const std::string& reason) { return reason.starts_with(beginning); });
  return found == side.because.end() ? "" : *found;
}

/// A household whose agency has found the current to rise more steeply with the amplitude than the profile says: its
/// exponent 1.3 rather than 1.
testing::World steep_world() {
  testing::World world;
  world.household.agency.models["plain"].exponent_mean = 0.3;
  return world;
}

}  // namespace

TEST_CASE("how much faster a change of amplitude runs cells down is told as the forecast counts it") {
  // By the profile the mean current goes from 0.28 x 70 + 0.72 x 2.2 = 21.184 mA to 0.28 x 77.8 + 0.72 x 2.2 = 23.368
  // mA at 4.6; an exponent that is 0.3 higher adds 0.3 x d ln(I) / d(exponent) = 0.3 x 0.28 x 59.8 / 23.368 x ln(1.15)
  // = 0.0300: e^(0.0981 + 0.0300) = 1.137, not 1.103.
  const auto recorded = [](testing::World world) {
    auto raised = world.household.settings.front();
    raised.from = world.start + 24h * 2;
    raised.amplitude = 4.6;
    world.household.settings.push_back(raised);
    return world;
  };
  const auto set = recorded(steep_world());
  CHECK(gives(set.left(set.start + 24h * 2 + 1h), "Amplitude up from 4 to 4.6: 14 % faster."));
  CHECK(gives(set.left(set.start + 24h), "Planned: amplitude up from 4 to 4.6: 14 % faster."));
  const auto plain = recorded({});
  CHECK(gives(plain.left(plain.start + 24h * 2 + 1h), "Amplitude up from 4 to 4.6: 10 % faster."));

  auto infected = steep_world();
  infected.household.paced_more.push_back({Side::left, infected.start + 24h * 2, {}, {}, 4.6});
  CHECK(
      gives(infected.left(infected.start + 24h * 2 + 1h), "Amplitude 4.6 instead of 4 since Wed 7 Jan: 14 % faster."));
}

TEST_CASE("how much faster another unit runs cells down includes what its model's units have been found to draw") {
  // Of one load e^(0.05) = 1.051: log use as the agency has it of the other model, beside nought for this one.
  testing::World world;
  auto other = testing::plain_unit();
  other.id = "plain-two";
  world.household.agency.models["plain-two"].use_mean = 0.05;
  world.household.units.push_back({"u-2", other, world.start + 24h * 4});
  CHECK(gives(world.left(world.start + 24h), "Planned: unit u-2 from Fri 9 Jan: 5 % faster."));
}

TEST_CASE("what earlier sets let expect is not put down to this side alone") {
  // What a home's other side and the agency's other homes have taught is in the same number (learning.hpp).
  testing::World taught;
  for (int k = 7; k >= 1; --k) taught.change(Side::left, taught.start - 24h * 8 * k, life::ChangeReason::ran_out);
  taught.household.cell_changes[0].reason = life::ChangeReason::ran_out;
  const auto both = life::forecast(taught.household, taught.start + 1h);
  CHECK(reason_of(both.side(Side::left), "Judging by earlier sets (7 of this side), its cells run down ")
            .ends_with(" % faster than its unit's profile says."));
  CHECK(reason_of(both.side(Side::right), "Judging by sets of other sides, its cells run down ")
            .ends_with(" % faster than its unit's profile says."));
  testing::World agency;
  agency.household.agency.models["plain"].use_mean = -0.05;  // e^(0.05) = 1.051
  CHECK(gives(agency.left(agency.start + 1h),
              "Judging by sets of other sides, its cells run down 5 % slower than its unit's profile says."));
  CHECK(reason_of(testing::World().left(taught.start + 1h), "Judging by").empty());
}
