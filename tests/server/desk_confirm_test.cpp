// SPDX-License-Identifier: MIT
// A confirmation that is sent again under its key. Expected: DEVELOPERS.md (the same key and content: the answer of
// then), whether the service was started anew in between or not.
#include "tests/support/catch.hpp"
#include "tests/support/desk_world.hpp"

using namespace cellarer;
using namespace cellarer::service;
using namespace cellarer::testing;

TEST_CASE("a confirmation that is sent twice is done once", "[desk]") {
  DeskWorld at;
  const auto home = at.household("h-1");
  at.count(home, 2);
  const auto draft = at.desk.plan("agency");
  const auto once = at.doing();
  const auto first = at.desk.confirm(once, draft->tag, {first_wednesday});
  const auto again = at.desk.confirm(once, draft->tag, {first_wednesday});
  CHECK(first.rounds[0].number == again.rounds[0].number);
  CHECK(at.agency().rounds.at(first_wednesday).history.size() == 1);
}

TEST_CASE("a confirmation that is sent again after a restart is answered as it was, and done once", "[desk]") {
  DeskWorld at;
  at.count(at.household("h-1"), 2);
  const auto draft = at.desk.plan("agency");
  const auto once = at.doing();
  const auto first = at.desk.confirm(once, draft->tag, {first_wednesday});
  at.desk.decide(at.doing(), draft->tag, {"h-1", first_wednesday, std::nullopt});
  const auto later = at.desk.plan("agency");
  const auto second_once = at.doing();
  const auto second = at.desk.confirm(second_once, later->tag, {first_wednesday});
  REQUIRE(second.withdrawn.size() == 1);
  const auto journal = at.households.journal().version("agency");

  PlannerDesk anew(*at.store, at.households);
  const auto again = anew.confirm(once, draft->tag, {first_wednesday});
  REQUIRE(again.rounds.size() == 1);
  CHECK(again.rounds[0].round == first_wednesday);
  CHECK(again.rounds[0].stops == first.rounds[0].stops);
  CHECK(again.rounds[0].number == first.rounds[0].number);
  CHECK(again.withdrawn.empty());
  const auto second_again = anew.confirm(second_once, later->tag, {first_wednesday});
  CHECK(second_again.rounds.at(0).number == second.rounds[0].number);
  REQUIRE(second_again.withdrawn.size() == 1);
  CHECK(second_again.withdrawn[0].address == second.withdrawn[0].address);
  CHECK(second_again.withdrawn[0].round == first_wednesday);
  CHECK(problem_of([&] { anew.confirm(at.doing(), later->tag, {first_wednesday}); }) == "outdated");
  CHECK(at.households.journal().version("agency") == journal);
}
