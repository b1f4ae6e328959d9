// SPDX-License-Identifier: MIT
// One stop by hand: what follows is shown and nothing is kept.
#include "model/rounds/adjust.hpp"

#include <stdexcept>

#include "tests/model/rounds/brute_force.hpp"
#include "tests/model/rounds/rounds_fixture.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer::rounds;
using namespace cellarer::rounds::testing;

namespace {

std::string refusal(const PlanInput& input, const Plan& plan, const Change& change) {
  try {
    consequence_of(input, plan, change);
    return "nothing was refused";
  } catch (const std::invalid_argument& error) {
    return error.what();
  }
}

}  // namespace

TEST_CASE("Moving the one visit that serves two windows shows who falls and what it takes to mend it") {
  const PlanInput input =
      agency({home("h-1", {need(0, 6), need(4, 12, "tape")})}, {round_on(2, 1), round_on(5, 1), round_on(10, 1)});
  const Plan first = plan(input);
  REQUIRE(first.stops.size() == 1);
  REQUIRE(first.stops[0].round == "north-5");
  const Consequence moved = consequence_of(input, first, {"h-1", "north-5", "north-10"});
  REQUIRE(moved.falls.size() == 1);
  CHECK(moved.falls[0].item == "cells");
  CHECK(moved.falls[0].late_on == day(10));
  CHECK(moved.risk_more == 1.0);
  CHECK(moved.visits_more == 1);  // the second day's round besides
  CHECK(moved.risk_more_replanned == 0.0);
  CHECK(moved.moves.empty());
}

TEST_CASE("Leaving a stop out shows which confirmed stops move when the rest makes up for it") {
  PlanInput input = agency({home("h-1", {need(0, 6)}), home("h-2", {need(0, 12)})},
                           {round_on(2, 1), round_on(5, 1), round_on(10, 1)});
  input.confirmed = {{"h-1", "north-5"}, {"h-2", "north-2"}};
  const Plan first = plan(input);
  REQUIRE(first.moved.empty());
  const Consequence left_out = consequence_of(input, first, {"h-1", "north-5", {}});
  CHECK(left_out.falls.size() == 1);
  CHECK(left_out.visits_more == 0);
  CHECK(left_out.risk_more_replanned == 0.0);
  REQUIRE(left_out.moves.size() == 2);
  CHECK(left_out.moves[0].address == "h-1");
  CHECK(left_out.moves[1].address == "h-2");
}

TEST_CASE("A stop more on a full round is over its limit, and one that leaves too soon is told") {
  const PlanInput input = agency({home("h-1", {need(0, 6)}), home("h-2", {need(8, 12)})},
                                 {round_on(5, 1), round_on(10, 1), round_on(1, 1, "north", 3)});
  const Plan first = plan(input);
  CHECK(consequence_of(input, first, {"h-2", {}, "north-5"}).over_the_limit);
  CHECK(consequence_of(input, first, {"h-2", {}, "north-1"}).leaves_too_soon);
  CHECK_FALSE(consequence_of(input, first, {"h-1", {}, "north-10"}).leaves_too_soon);
}

TEST_CASE("The plan around a change equals the best of all plans that make it") {
  std::mt19937 random(31);
  int tried = 0;
  for (int i = 0; i < 60; ++i) {
    PlanInput input = random_agency(random, {3, 5, 3, 2, false, false, 1});
    const Plan first = plan(input);
    if (first.stops.empty()) continue;
    ++tried;
    const PlannedStop& stop = first.stops[static_cast<std::size_t>(i) % first.stops.size()];
    const Consequence consequence = consequence_of(input, first, {stop.address, stop.round, {}});
    input.pins = consequence.pins;
    const auto [risk, visits, moved] = best_of_all_plans(input);
    CHECK(consequence.replanned.figures.risk == Approx(static_cast<double>(risk) / 1e6));
    CHECK(consequence.visits_more == visits - first.figures.visits);
    CHECK(consequence.risk_more >= consequence.risk_more_replanned - 1e-9);
  }
  CHECK(tried > 30);
}

TEST_CASE("A change that cannot be is refused with what would be right") {
  const PlanInput input = agency({home("h-1", {need(0, 6)})}, {round_on(5, 1)});
  const Plan first = plan(input);
  CHECK(refusal(input, first, {"h-1", {}, {}}).find("names no round") != std::string::npos);
  CHECK(refusal(input, first, {"h-9", {}, "north-5"}).find("no household has the address h-9") != std::string::npos);
  CHECK(refusal(input, first, {"h-1", {}, "north-7"}).find("no round north-7") != std::string::npos);
  CHECK(refusal(input, first, {"h-1", {}, "north-5"}).find("already") != std::string::npos);
}
