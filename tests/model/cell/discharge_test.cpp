// SPDX-License-Identifier: MIT
#include <cmath>

#include "model/cell/pair.hpp"
#include "tests/model/cell/cell_fixture.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer::cell;

namespace {
const Load pacing{LoadKind::current, 40};
}

TEST_CASE("the hours to a depth and from there on add up to the whole") {
  const Curve curve = curve_of(test::known_parameters());
  const double whole = discharge(curve, pacing, 0.9).hours;
  Circumstances part_used;
  part_used.start_depth = 0.333;
  const double to_there = 0.333 * curve.capacity_mAh() / 40;
  CHECK(to_there + discharge(curve, pacing, 0.9, part_used).hours == Approx(whole).epsilon(1e-9));
}

TEST_CASE("more load, a higher cut-off or a fixture give fewer hours") {
  const Curve curve = curve_of(test::known_parameters());
  for (const LoadKind kind : {LoadKind::current, LoadKind::power}) {
    CHECK(discharge(curve, {kind, 60}, 0.9).hours < discharge(curve, {kind, 50}, 0.9).hours);
    CHECK(discharge(curve, {kind, 50}, 1.0).hours < discharge(curve, {kind, 50}, 0.9).hours);
    CHECK(discharge(curve, {kind, 300}, 0.9, {0.1, 1, 0}).hours < discharge(curve, {kind, 300}, 0.9).hours);
  }
  CHECK(discharge(curve, {LoadKind::resistance, 40}, 0.9).hours >
        discharge(curve, {LoadKind::resistance, 30}, 0.9).hours);
}

TEST_CASE("a start below the cut-off gives hours that are tiny and still fall with the missing voltage") {
  const Curve curve = curve_of(test::known_parameters());
  const auto near = discharge(curve, {LoadKind::current, 500}, 1.60),
             far = discharge(curve, {LoadKind::current, 500}, 1.62);
  CHECK(near.depth <= 0);
  CHECK(near.hours > 0);
  CHECK(near.hours < 0.01);
  CHECK(far.hours <= near.hours);
}

TEST_CASE("the slow voltage follows a long burst wholly and a short one by its share of the time") {
  CHECK(slow_share(std::nullopt, 30) == 1);
  CHECK(slow_share(Regimen{4 * 3600, 86400}, 30) == Approx(1).margin(1e-3));
  // 15 s a minute against 30 min: the mean of the current, 0.25, within what half a burst adds.
  CHECK(slow_share(Regimen{15, 60}, 30) == Approx(0.25).margin(0.01));
}

TEST_CASE("a part-used cell beside a fresh one ends the set early and is the lower of the two") {
  const Curve curve = curve_of(test::known_parameters());
  const double fresh = discharge_set({{curve, 0, 1}, {curve, 0, 1}}, pacing, 1.8).hours;
  const auto mixed = discharge_set({{curve, 0, 1}, {curve, 0.5, 1}}, pacing, 1.8);
  CHECK(mixed.hours < 0.75 * fresh);
  CHECK(mixed.hours > 0.4 * fresh);
  CHECK(mixed.end_V[1] < mixed.end_V[0]);
  CHECK(mixed.first_reversed_h < 0);
}

TEST_CASE("driven far enough the weaker cell of a mixed set is reversed before the end") {
  const Curve curve = curve_of(test::known_parameters());
  const auto mixed = discharge_set({{curve, 0, 1}, {curve, 0.6, 1}}, {LoadKind::current, 200}, 0.4);
  REQUIRE(mixed.first_reversed_h > 0);
  CHECK(mixed.first_reversed_h <= mixed.hours);
  CHECK(mixed.end_V[1] < 0);
}

TEST_CASE("a set of two whose capacities differ by 3 % lasts as one of their mean within 1 %") {
  // Measured on pairs of the brands: -0.4 +- 0.7 % (data/reference/lr6-spread.json).
  const Curve curve = curve_of(test::known_parameters());
  const double mean = discharge_set({{curve, 0, 1}, {curve, 0, 1}}, pacing, 1.8).hours;
  CHECK(discharge_set({{curve, 0, 1.015}, {curve, 0, 0.985}}, pacing, 1.8).hours == Approx(mean).epsilon(0.01));
}
