// SPDX-License-Identifier: MIT
// The flow, the covering of intervals and the relaxation against published answers and identities.
#include "model/rounds/flow.hpp"

#include "model/rounds/prices.hpp"
#include "model/rounds/solve.hpp"
#include "model/rounds/visits.hpp"
#include "tests/model/rounds/rounds_fixture.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer::rounds;
using namespace cellarer::rounds::testing;

namespace {

std::vector<std::vector<Choice>> table(const std::vector<std::vector<int>>& costs) {
  std::vector<std::vector<Choice>> choices;
  for (const auto& row : costs) {
    choices.emplace_back();
    for (std::size_t c = 0; c < row.size(); ++c) choices.back().push_back({static_cast<int>(c), row[c]});
  }
  return choices;
}

/// A household whose windows are these, a round a day, nobody else.
std::size_t fewest_points(const std::vector<std::pair<int, int>>& intervals, int days) {
  PlanInput input = agency({home("h", {})}, {}, days + 1);
  for (int d = 0; d <= days; ++d) input.rounds.push_back(round_on(d, 1));
  for (const auto& [from, to] : intervals) input.households[0].needs.push_back(need(from, to));
  const Plan found = plan(input);
  CHECK(found.left.empty());
  return found.stops.size();
}

}  // namespace

TEST_CASE("The flow finds the published optimum of an assignment of four workers to four tasks") {
  // OR-Tools, Assignment as a Minimum Cost Flow Problem (ortools/graph/samples/assignment_min_flow.py): total cost 265.
  const auto costs = table({{90, 76, 75, 70}, {35, 85, 55, 65}, {125, 95, 90, 105}, {45, 110, 95, 115}});
  const Flow flow = assign(costs, {1, 1, 1, 1}, 100000);
  REQUIRE(flow.cost == 265);
  REQUIRE(flow.unplaced == 0);
}

TEST_CASE("Flow and prices satisfy linear programming's duality") {
  // Strong duality: cost = sum over visits of min(cost + price, unplaced) - sum of price times limit.
  std::mt19937 random(3);
  for (int i = 0; i < 50; ++i) {
    const auto from = [&](int low, int high) { return std::uniform_int_distribution<int>(low, high)(random); };
    std::vector<std::vector<Choice>> visits(static_cast<std::size_t>(from(1, 12)));
    std::vector<int> limits(4);
    for (int& limit : limits) limit = from(0, 3);
    for (auto& choices : visits)
      for (int c = 0; c < 4; ++c)
        if (from(0, 2) > 0) choices.push_back({c, from(0, 20)});
    const Flow flow = assign(visits, limits, 1000);
    std::int64_t dual = 0;
    for (const auto& choices : visits) {
      std::int64_t least = 1000;
      for (const Choice& choice : choices)
        least = std::min(least, choice.cost + flow.prices[static_cast<std::size_t>(choice.column)]);
      dual += least;
    }
    for (std::size_t c = 0; c < limits.size(); ++c) dual -= flow.prices[c] * limits[c];
    REQUIRE(flow.cost == dual);
  }
}

TEST_CASE("One household's visits are the fewest points that stab its intervals, as published examples have them") {
  // LeetCode 452, Minimum Number of Arrows to Burst Balloons, examples 1 to 3: 2, 4 and 2.
  CHECK(fewest_points({{10, 16}, {2, 8}, {1, 6}, {7, 12}}, 16) == 2);
  CHECK(fewest_points({{1, 2}, {3, 4}, {5, 6}, {7, 8}}, 8) == 4);
  CHECK(fewest_points({{1, 2}, {2, 3}, {3, 4}, {4, 5}}, 5) == 2);
}

TEST_CASE("The relaxation is a lower bound at any prices and meets the plan where limits do not bind") {
  std::mt19937 random(11);
  for (int i = 0; i < 60; ++i) {
    const PlanInput input = random_agency(random, {6, 6, 3, 2, false, false, 1});
    const Grid grid = grid_of(input);
    const Plan found = plan(input);
    std::int64_t alone = 0, risk_alone = 0;
    std::vector<int> everybody;
    for (std::size_t a = 0; a < grid.addresses.size(); ++a) {
      everybody.push_back(static_cast<int>(a));
      const Cost cost = cheapest_alone(grid.addresses[a]).cost;
      alone += cost.visits, risk_alone += cost.risk_ppm;
    }
    const Relaxation relaxed = relax(grid, everybody, Priced::visits, static_cast<double>(found.figures.visits + 1));
    CHECK(relaxed.bound >= static_cast<double>(alone) - 1e-9);
    if (found.figures.risk * 1e6 < static_cast<double>(risk_alone) + 0.5)
      CHECK(whole_bound(relaxed.bound) <= found.figures.visits);
    const Relaxation risk = relax(grid, everybody, Priced::risk, found.figures.risk * 1e6);
    CHECK(risk.bound <= found.figures.risk * 1e6 + 1);
  }
}

TEST_CASE("A higher limit never makes a plan worse") {
  std::mt19937 random(12);
  for (int i = 0; i < 60; ++i) {
    PlanInput input = random_agency(random, {6, 6, 3, 1, false, false, 2});
    const Plan before = plan(input);
    for (Round& round : input.rounds) ++round.stops;
    const Plan after = plan(input);
    CHECK_FALSE(better(before.figures, after.figures));
  }
}

TEST_CASE("Without the search at the end, repaired plans of middling size stay within 2 % of their bound") {
  std::mt19937 random(13);
  PlanInput input = agency({}, {}, 56);
  for (int d = 1; d <= 56; d += 3) input.rounds.push_back(round_on(d, 14));
  for (int h = 0; h < 60; ++h) {
    Household household = home("h-" + std::to_string(h), {});
    const int pack_days = std::uniform_int_distribution<int>(8, 20)(random),
              first = std::uniform_int_distribution<int>(8, 20)(random);
    for (int by = first; by < 56; by += pack_days)
      household.needs.push_back(need(std::max(0, by - pack_days * 3 / 2), by));
    input.households.push_back(household);
  }
  const Plan found = plan(input);
  CHECK(found.left.empty());
  REQUIRE(found.figures.gap());
  CHECK(*found.figures.gap() <= 0.02);
  CHECK(found.figures.searched == 0);
}
