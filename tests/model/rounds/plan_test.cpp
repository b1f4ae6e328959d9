// SPDX-License-Identifier: MIT
// What a plan says: one stop for two wearers at one address, reasons, lots, picking lists, confirmed stops.
#include "model/rounds/plan.hpp"

#include <map>

#include "model/rounds/picking.hpp"
#include "model/rounds/remedies.hpp"
#include "tests/model/rounds/rounds_fixture.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer::rounds;
using namespace cellarer::rounds::testing;

TEST_CASE("Two wearers at one address are two households and one stop") {
  const PlanInput input = agency(
      {home("h-1", {need(0, 9)}, "north", "key-1"), home("h-2", {need(2, 8)}, "north", "key-1")}, {round_on(5, 1)});
  const Plan found = plan(input);
  REQUIRE(found.stops.size() == 1);
  CHECK(found.stops[0].deliveries.size() == 2);
  CHECK(found.left.empty());
  CHECK(found.figures.proven);
}

TEST_CASE("Each reason for being left is told") {
  PlanInput input = agency({home("no-round", {need(6, 9)}), home("too-soon", {need(0, 1)}),
                            home("full-a", {need(3, 5)}), home("full-b", {need(3, 5)})},
                           {round_on(1, 9, "north", 3), round_on(4, 1), round_on(20, 9)});
  input.households[2].needs[0].risk = {{day(6), 0.2}};
  const Plan found = plan(input);
  std::map<std::string, const Left*> left;
  for (const Left& one : found.left) left[one.household] = &one;
  REQUIRE(left.size() == 3);  // the one that risks less of those for whom the round is full, and the others
  CHECK(left.at("no-round")->reasons == std::vector<Why>{Why::no_round});
  CHECK(left.at("too-soon")->reasons == std::vector<Why>{Why::lead_time});
  CHECK(left.at("full-a")->reasons == std::vector<Why>{Why::rounds_full});
  CHECK(left.at("full-a")->risk == Approx(0.2));
}

TEST_CASE("If stock is short, who risks most is served, and the other is told that packs are missing") {
  PlanInput input = agency({home("h-1", {need(0, 6)}), home("h-2", {need(0, 6)})}, {round_on(5, 5)});
  input.households[0].needs[0].risk = {{day(7), 0.3}};
  input.households[1].needs[0].risk = {{day(7), 0.4}};
  input.lots = {{{"cells", "A1", 1, {}, false, {}},
                 {"cells", "A2", 9, {}, true, {}},
                 {"cells", "A3", 9, std::chrono::year{2026} / 2, false, {}},
                 {"cells", "A4", 9, {}, false, day(8)}}};
  const Plan found = plan(input);
  REQUIRE(found.stops.size() == 1);
  CHECK(found.stops[0].deliveries[0].household == "h-2");
  CHECK(found.stops[0].deliveries[0].parts[0].lot == "A1");  // A2 is recalled, A3 expired, A4 not there yet
  REQUIRE(found.left.size() == 1);
  CHECK(found.left[0].household == "h-1");
  CHECK(found.left[0].reasons == std::vector<Why>{Why::stock_short});
  CHECK(found.figures.risk == Approx(0.3));
  const auto remedies = remedies_for(input, found, "h-1");
  REQUIRE(remedies.size() == 1);
  CHECK(remedies[0].kind == RemedyKind::more_packs);
  CHECK(remedies[0].date == day(5));
  CHECK(remedies[0].extra_visits == 1);
}

TEST_CASE("First expired, first out, and a set is never of two lots") {
  PlanInput input = agency({home("h-1", {need(0, 6, "cells", 4)})}, {round_on(5, 5)});
  input.items = {{"cells", 1, 2}};  // packs of a single cell
  input.lots = {{{"cells", "later", 8, std::chrono::year{2028} / 1, false, {}},
                 {"cells", "sooner", 3, std::chrono::year{2027} / 1, false, {}}}};
  const Plan found = plan(input);
  REQUIRE(found.stops.size() == 1);
  const auto& parts = found.stops[0].deliveries[0].parts;
  REQUIRE(parts.size() == 2);
  CHECK(parts[0].lot == "sooner");
  CHECK(parts[0].packs == 2);  // the third cell would make a set of two lots
  CHECK(parts[1].packs == 2);
}

TEST_CASE("A picking list adds up to its delivery sheets, whatever the agency") {
  std::mt19937 random(21);
  for (int i = 0; i < 60; ++i) {
    const PlanInput input = random_agency(random, {5, 5, 3, 2, i % 2 == 0, true, 2});
    const Plan found = plan(input);
    std::size_t stops = 0;
    for (const RoundSheet& sheet : sheets_of(input, found)) {
      std::map<std::pair<std::string, std::string>, int> sum;
      stops += sheet.stops.size();
      CHECK(sheet.stops.size() <= static_cast<std::size_t>(sheet.stops_at_most));
      for (const SheetStop& stop : sheet.stops)
        for (const SheetLine& line : stop.lines) {
          int packs = 0;
          for (const LotPart& part : line.parts) sum[{line.item, part.lot}] += part.packs, packs += part.packs;
          CHECK(packs == line.packs);
        }
      for (const PickLine& pick : sheet.picking) {
        CHECK(sum[{pick.item, pick.lot}] == pick.packs);
        sum.erase({pick.item, pick.lot});
      }
      CHECK(sum.empty());
    }
    CHECK(stops == found.stops.size());
  }
}

TEST_CASE("A plan planned again with its own stops confirmed moves none of them") {
  std::mt19937 random(22);
  for (int i = 0; i < 60; ++i) {
    PlanInput input = random_agency(random, {6, 6, 3, 2, false, false, 2});
    for (Round& round : input.rounds) round.lead_days = 0;
    const Plan first = plan(input);
    for (const PlannedStop& stop : first.stops) input.confirmed.push_back({stop.address, stop.round});
    const Plan again = plan(input);
    CHECK(again.moved.empty());
    CHECK(again.figures.visits == first.figures.visits);
  }
}

TEST_CASE("Remedies are ranked by extra visits among those that serve as well") {
  // The round of day 4 is full with somebody who would risk more; day 30's comes too late.
  PlanInput input = agency({home("h-1", {need(3, 5)}), home("h-2", {need(3, 5)})},
                           {round_on(4, 1), round_on(30, 5), round_on(5, 1, "south")});
  input.households[0].needs[0].risk = {{day(6), 0.5}};
  const Plan found = plan(input);
  REQUIRE(found.left.size() == 1);
  const auto remedies = remedies_for(input, found, "h-1");
  REQUIRE(remedies.size() == 4);
  CHECK(remedies[0].kind == RemedyKind::extra_stop);
  CHECK(remedies[0].round == "north-4");
  CHECK(remedies[0].risk_after == 0);
  CHECK(remedies[1].kind == RemedyKind::other_areas_round);
  CHECK(remedies[1].round == "south-5");
  CHECK(remedies[2].kind == RemedyKind::extra_round);
  for (std::size_t i = 1; i < remedies.size(); ++i) CHECK(remedies[i].extra_visits >= remedies[i - 1].extra_visits);
}
