// SPDX-License-Identifier: MIT
// Plans against every plan there is, by enumeration: equal in risk, visits and confirmed stops moved.
#include <cmath>

#include "model/rounds/share.hpp"
#include "tests/model/rounds/brute_force.hpp"
#include "tests/model/rounds/rounds_fixture.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer::rounds;
using namespace cellarer::rounds::testing;

namespace {

Merit merit_of(const Plan& plan) {
  return {std::lround(plan.figures.risk * 1e6), plan.figures.visits, plan.figures.moved};
}

/// That the cases were worth trying: how many were settled in which way, and how many had something to lose.
struct Tally {
  int alone = 0, by_flow = 0, searched = 0, at_risk = 0, moved = 0, stock_short = 0;
};

auto compare(unsigned seed, int cases, const Draw& draw) {
  std::mt19937 random(seed);
  Tally tally;
  for (int i = 0; i < cases; ++i) {
    const PlanInput input = random_agency(random, draw);
    const Plan found = plan(input);
    INFO("seed " << seed << ", case " << i);
    REQUIRE(merit_of(found) == best_of_all_plans(input));
    REQUIRE(found.figures.proven);
    REQUIRE(static_cast<double>(risk_of_short_stock_ppm(input)) <= found.figures.risk * 1e6 + 0.5);
    REQUIRE(std::lround(found.figures.risk_bound * 1e6) == std::lround(found.figures.risk * 1e6));
    tally.alone += found.figures.alone, tally.by_flow += found.figures.by_flow,
        tally.searched += found.figures.searched;
    tally.at_risk += found.figures.risk > 0, tally.moved += found.figures.moved > 0;
    tally.stock_short += found.figures.stock_short;
  }
  return tally;
}

}  // namespace

TEST_CASE("Where stops alone bind, plans equal the best of all plans") {
  const Tally tally = compare(1, 300, {4, 5, 3, 2, false, true, 1});
  UNSCOPED_INFO(tally.alone << ' ' << tally.by_flow << ' ' << tally.searched << ' ' << tally.at_risk << ' '
                            << tally.moved);
  CHECK(tally.alone > 30);
  CHECK(tally.by_flow > 10);
  CHECK(tally.searched > 20);
  CHECK(tally.at_risk > 30);
  CHECK(tally.moved > 30);
  compare(2, 300, {5, 4, 2, 1, false, true, 1});
  compare(3, 60, {3, 6, 4, 2, false, true, 1});
  compare(4, 100, {5, 5, 3, 2, false, true, 2});
}

TEST_CASE("Where stock is short, plans equal the best of all plans") {
  const Tally tally = compare(5, 150, {3, 3, 2, 2, true, true, 1});
  UNSCOPED_INFO(tally.stock_short << ' ' << tally.at_risk);
  CHECK(tally.stock_short > 30);
  compare(6, 150, {2, 4, 2, 1, true, true, 1});
  compare(7, 60, {3, 4, 1, 2, true, false, 2});
}

TEST_CASE("More and larger agencies against the best of all plans", "[.long][long]") {
  compare(8, 2000, {4, 5, 3, 2, false, true, 1});
  compare(9, 300, {5, 6, 3, 2, false, true, 1});
  compare(10, 300, {3, 4, 2, 2, true, true, 1});
}
