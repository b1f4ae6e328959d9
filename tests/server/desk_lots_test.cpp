// SPDX-License-Identifier: MIT
// Lots on the planner's desk. Expected, from issue 5: a wrong lot number is corrected once and all its uses follow, the
// agency's own stock, what is planned and what is under way too; a recalled lot leaves stock and plan at once.
#include "server/service/lots.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/desk_world.hpp"

using namespace cellarer;
using namespace cellarer::service;
using namespace cellarer::testing;

namespace {

/// Numbers and packs of the agency's own lots, as its board has them.
std::map<std::string, int> stored(DeskWorld& at) {
  std::map<std::string, int> packs;
  for (const auto& lot : at.desk.board("agency")->frame().agency.lots) packs[lot.lot] += lot.packs;
  return packs;
}

std::set<std::string> planned_lots(const Draft& draft) {
  std::set<std::string> lots;
  for (const auto& stop : draft->plan.stops)
    for (const auto& delivery : stop.deliveries)
      for (const auto& part : delivery.parts) lots.insert(part.lot);
  return lots;
}

std::set<std::string> carried_lots(DeskWorld& at) {
  std::set<std::string> lots;
  for (const auto& one : at.desk.on_round("agency", first_wednesday))
    for (const auto& line : one.desk.delivery_on(first_wednesday)->lines)
      for (const auto& lot : line.lots) lots.insert(lot.lot);
  return lots;
}

void receive(DeskWorld& at, const char* lot, int packs, const char* expires = "2030-06") {
  at.agency_stock({{"what", "received"}, {"item", "tape"}, {"lot", lot}, {"packs", packs}, {"expires", expires}});
}

}  // namespace

TEST_CASE("a corrected lot number is the right one in the agency's own stock, before and later, and back", "[desk]") {
  DeskWorld at;
  receive(at, "T1", 8);
  receive(at, "T7", 4);
  CHECK(stored(at) == std::map<std::string, int>{{"T1", 8}, {"T7", 4}});
  at.correct_lot("T1", "T7");
  CHECK(stored(at) == std::map<std::string, int>{{"T7", 12}});
  receive(at, "T1", 1);  // the wrong number is on the next box too
  CHECK(stored(at) == std::map<std::string, int>{{"T7", 13}});
  CHECK(at.agency().lots.size() == 1);
  at.correct_lot("T1", nullptr);
  CHECK(stored(at) == std::map<std::string, int>{{"T1", 9}, {"T7", 4}});
}

TEST_CASE("a corrected lot number is the right one in plan, picking, what is under way and what is received",
          "[desk]") {
  DeskWorld at;
  const auto home = at.household("h-1");
  at.count(home, 2);
  receive(at, "T1", 20);
  const auto draft = at.desk.plan("agency");
  CHECK(planned_lots(draft) == std::set<std::string>{"T1"});
  const auto confirmed = at.desk.confirm(at.doing(), draft->tag, {first_wednesday});
  at.correct_lot("T1", "T7");
  CHECK(carried_lots(at) == std::set<std::string>{"T7"});
  const auto picking = at.desk.board("agency")->frame().agency.rounds.at(first_wednesday).totals;
  REQUIRE(picking.size() == 1);
  CHECK(picking[0].lot == "T7");
  const auto anew = at.desk.plan("agency");
  CHECK(planned_lots(anew) == std::set<std::string>{"T7"});
  CHECK(changed_rounds(*anew).count(first_wednesday) == 0);  // the same packs of the same lot
  at.desk.set_round_state(at.doing(), first_wednesday, RoundState::left, confirmed.rounds[0].number);
  CHECK(stored(at) == std::map<std::string, int>{{"T7", 20 - picking[0].packs}});
  at.desk.delivery_received(at.doing(), home, first_wednesday, std::nullopt);
  const auto lines = stock_at(at.households.snapshot(home)->record, at.clock.now()).lines;
  CHECK(
      std::any_of(lines.begin(), lines.end(), [](const auto& line) { return line.lot == "T7" && line.quantity > 0; }));
  CHECK(std::none_of(lines.begin(), lines.end(), [](const auto& line) { return line.lot == "T1"; }));
}

TEST_CASE("a recalled lot leaves the plan, and one that was planned before the recall is not confirmed", "[desk]") {
  DeskWorld at;
  at.count(at.household("h-1"), 2);
  receive(at, "T1", 20, "2029-06");
  receive(at, "T7", 20);
  const auto before = at.desk.plan("agency");
  CHECK(planned_lots(before).count("T1") == 1);
  at.recall("T1");
  const auto journal = at.households.journal().version("agency");
  CHECK(problem_of([&] { at.desk.confirm(at.doing(), before->tag, {first_wednesday}); }) == "outdated");
  CHECK(at.households.journal().version("agency") == journal);
  const auto after = at.desk.plan("agency");
  CHECK(planned_lots(after) == std::set<std::string>{"T7"});
  CHECK(at.desk.confirm(at.doing(), after->tag, {first_wednesday}).rounds.size() == 1);
}

TEST_CASE("a recalled lot is looked for on its way too: from when it is loaded until the home has answered", "[desk]") {
  DeskWorld at;
  const auto home = at.household("h-1");
  at.count(home, 2);
  receive(at, "T1", 20);
  const auto draft = at.desk.plan("agency");
  auto number = at.desk.confirm(at.doing(), draft->tag, {first_wednesday}).rounds[0].number;
  const int packs = at.agency().rounds.at(first_wednesday).totals.at(0).packs;
  const auto line = [&] { return lot_story(at.households, "agency", {"tape", "T1"})->line; };
  CHECK(line().on_its_way == 0);  // planned: it is in the agency's store
  CHECK(line().in_agency == 5 * 20);
  for (const auto state : {RoundState::loaded, RoundState::left}) {
    at.desk.set_round_state(at.doing(), first_wednesday, state, number);
    number = at.agency().number_of(first_wednesday);
    CHECK(line().on_its_way == 5 * packs);
    CHECK(line().homes_on_its_way == 1);
    CHECK(line().in_agency + line().on_its_way == 5 * 20);  // no piece is counted twice
    CHECK(line().in_homes == 0);
  }
  at.recall("T1");
  const auto story = lot_story(at.households, "agency", {"tape", "T1"});
  REQUIRE(story->homes.size() == 1);
  REQUIRE(story->homes[0].at.on_its_way.size() == 1);
  CHECK(story->homes[0].at.on_its_way[0].round == first_wednesday);
  at.clock.advance(std::chrono::hours(24 * 10));  // nobody has answered for days
  CHECK(line().on_its_way == 5 * packs);
  at.desk.delivery_received(at.doing(), home, first_wednesday, std::nullopt);
  CHECK(line().on_its_way == 0);
  CHECK(line().in_homes == 5 * packs);
}
