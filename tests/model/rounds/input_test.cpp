// SPDX-License-Identifier: MIT
// What comes in: windows from use, rounds from rules, and each kind of bad input told with place and remedy.
#include "model/rounds/calendar.hpp"
#include "model/rounds/check.hpp"
#include "model/rounds/needs.hpp"
#include "tests/model/rounds/rounds_fixture.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer::rounds;
using namespace cellarer::rounds::testing;

namespace {

/// One unit a day for certain: N(d) = d + 1.
std::vector<cellarer::stock::CountPmf> one_a_day(int days) {
  std::vector<cellarer::stock::CountPmf> used;
  for (int d = 0; d < days; ++d) {
    used.emplace_back(static_cast<std::size_t>(d) + 2, 0.0);
    used.back().back() = 1;
  }
  return used;
}

void only_problem(const PlanInput& input, const std::string& sentence) {
  const auto problems = problems_of(input);
  REQUIRE(problems.size() == 1);
  CHECK(sentence_of(problems[0]) == sentence);
  CHECK_THROWS_AS(plan(input), std::invalid_argument);
}

PlanInput sound() { return agency({home("h-1", {need(0, 6)})}, {round_on(5, 1)}); }

}  // namespace

TEST_CASE("Windows follow from certain use by counting") {
  // Ten units there, one a day: the eleventh day (day 10) would go without, so day 9 is the last to deliver. Packs of
  // five, room for twelve: after day 2 (three used) seven are left and a pack fits; the second fits five days later.
  const auto needs = needs_of({"cells", 10, 5, 12, one_a_day(21)}, monday);
  REQUIRE(needs.size() == 3);
  CHECK(needs[0].deliver_by == day(9));
  CHECK(needs[0].earliest == day(2));
  CHECK(needs[1].deliver_by == day(14));
  CHECK(needs[1].earliest == day(7));
  CHECK(needs[2].deliver_by == day(19));
  CHECK(needs[0].risk.size() == 1);
  CHECK(needs[0].risk[0].from == day(10));
  CHECK(needs[0].risk[0].probability == 1.0);
}

TEST_CASE("What is overdue has the window of today") {
  const auto needs = needs_of({"cells", 0, 5, 12, one_a_day(3)}, monday);
  REQUIRE(needs.size() == 1);
  CHECK(needs[0].earliest == monday);
  CHECK(needs[0].deliver_by == monday);
}

TEST_CASE("A rule makes rounds on its weekdays and dates, and not on holidays") {
  const auto rounds = rounds_of({{"north", "north", {std::chrono::Monday}, {day(3)}, {day(7)}, 9, 2}}, monday, day(14));
  REQUIRE(rounds.size() == 3);
  CHECK(rounds[0].id == "north 2026-03-02");
  CHECK(rounds[1].date == day(3));
  CHECK(rounds[2].date == day(14));
  CHECK(rounds[2].stops == 9);
}

TEST_CASE("Sound input has no problems") { CHECK(problems_of(sound()).empty()); }

TEST_CASE("Each kind of bad round is told") {
  PlanInput input = sound();
  input.rounds[0].stops = 0;
  only_problem(input, "round north-5: its limit is 0 stops; give at least 1 stop, or leave the round out");
  input = sound();
  input.rounds.push_back(round_on(-2, 4));
  only_problem(input,
               "round north--2: its date 2026-02-28 is before today, 2026-03-02; leave it out, or give a date to come");
  input = sound();
  input.rounds.push_back(input.rounds[0]);
  only_problem(input, "round north-5: it is there twice; give every round a name of its own");
}

TEST_CASE("Each kind of bad household is told") {
  PlanInput input = sound();
  input.households[0].area = "";
  only_problem(input, "household h-1: it has no area; give one of the areas that rounds serve");
  input = sound();
  input.households[0].area = "west";
  only_problem(input,
               "household h-1: no round serves its area \"west\"; give one of the areas that rounds serve, or add a "
               "round there");
  input = sound();
  input.households.push_back(input.households[0]);
  only_problem(input, "household h-1: it is there twice; leave one of them in");
}

TEST_CASE("Each kind of bad need is told") {
  PlanInput input = sound();
  input.households[0].needs[0].packs = -3;
  only_problem(input, "household h-1, need 1 (cells): its quantity is -3 packs; give 1 pack or more");
  input = sound();
  input.households[0].needs[0] = need(6, 2);
  only_problem(input,
               "household h-1, need 1 (cells): its window ends on 2026-03-04, before it begins on 2026-03-08; give a "
               "deliver-by date that is not before the earliest");
  input = sound();
  input.households[0].needs[0].risk = {{day(7), 0.5}, {day(8), 0.4}};
  only_problem(input,
               "household h-1, need 1 (cells): its risk falls or its dates go back at 2026-03-10; order the steps by "
               "date, no risk below the one before");
}

TEST_CASE("Each kind of bad stock and stop is told") {
  PlanInput input = sound();
  input.lots = {{{"cells", "A1", -4, {}, false, {}}}};
  only_problem(input, "lot A1 of cells: it has -4 packs; give 0 packs or more; count it if the books went below");
  const AgencyLot there{"cells", "A1", 4, {}, false, {}}, on_order{"cells", "A1", 5, {}, false, day(9)};
  input.lots = {{there, on_order}};  // more of a lot that is there already
  CHECK(problems_of(input).empty());
  input.lots = {{there, there}};
  only_problem(input, "lot A1 of cells: it is there twice; add its packs up in one line");
  input = sound();
  input.confirmed = {{"h-1", "north-9"}};
  only_problem(input,
               "confirmed stop at h-1 on north-9: the calendar has no such round; leave it out, or add the round");
  input = sound();
  input.households.push_back(home("h-2", {}));
  input.pins = {{"h-1", "north-5", true}, {"h-2", "north-5", true}};
  only_problem(input, "round north-5: 2 stops are decided, its limit is 1; raise the limit or take a decision back");
}
