// SPDX-License-Identifier: MIT
// From the list to a plan, to entries, to stock. Expected: identities (packs planned, picked and received are the same
// packs) and issue 5's rules: only what was received is usable, nothing is half applied, of two planners the second is
// told.
#include <thread>

#include "tests/support/catch.hpp"
#include "tests/support/desk_world.hpp"

using namespace cellarer;
using namespace cellarer::service;
using namespace cellarer::testing;

namespace {

int packs_on(const Draft& draft, const std::string& round) {
  int packs = 0;
  for (const auto& stop : draft->plan.stops)
    if (stop.round == round)
      for (const auto& delivery : stop.deliveries) packs += delivery.packs;
  return packs;
}

int packs_in(const std::vector<LoadedLot>& lots) {
  int packs = 0;
  for (const auto& lot : lots) packs += lot.packs;
  return packs;
}

}  // namespace

TEST_CASE("a plan is confirmed, loaded, leaves; stock rises only when it is received", "[desk]") {
  DeskWorld at;
  const auto home = at.household("h-1");
  at.count(home, 2);  // six days of tape: it does not reach the second Wednesday
  const auto draft = at.desk.plan("agency");
  REQUIRE(draft->plan.left.empty());
  const int packs = packs_on(draft, first_wednesday);
  REQUIRE(packs >= 1);
  CHECK(changed_rounds(*draft).count(first_wednesday) == 1);
  const auto done = at.desk.confirm(at.doing(), draft->tag, {first_wednesday});
  REQUIRE(done.rounds.size() == 1);
  CHECK(done.rounds[0].stops == 1);
  CHECK(packs_in(at.agency().rounds.at(first_wednesday).totals) == packs);
  CHECK(at.tape_in(home) == 2);
  CHECK(changed_rounds(*at.desk.plan("agency")).count(first_wednesday) == 0);

  auto number = done.rounds[0].number;
  for (const auto state : {RoundState::loaded, RoundState::left}) {
    at.desk.set_round_state(at.doing(), first_wednesday, state, number);
    number = at.agency().number_of(first_wednesday);
    CHECK(at.tape_in(home) == 2);
  }
  CHECK(at.row(home)["deliveries"][0]["state"] == "left");
  at.desk.delivery_received(at.doing(), home, first_wednesday, std::nullopt);
  CHECK(at.tape_in(home) == 2 + 5 * packs);
  CHECK(at.row(home)["deliveries"].empty());
  at.desk.delivery_received(at.doing(), home, first_wednesday, std::nullopt);  // the second phone says it too
  CHECK(at.tape_in(home) == 2 + 5 * packs);
}

TEST_CASE("what is under way is not planned again, and does not count as stock", "[desk]") {
  DeskWorld at;
  const auto home = at.household("h-1");
  at.count(home, 2);
  const auto before = at.desk.plan("agency");
  const auto packs_of = [](const Draft& draft) {
    std::size_t packs = 0;
    for (const auto& household : draft->material.input.households) packs += household.needs.size();
    return packs;
  };
  const int packs = packs_on(before, first_wednesday);
  const auto number = at.desk.confirm(at.doing(), before->tag, {first_wednesday}).rounds[0].number;
  at.desk.set_round_state(at.doing(), first_wednesday, RoundState::left, number);
  const auto after = at.desk.plan("agency");
  CHECK(packs_of(after) + static_cast<std::size_t>(packs) == packs_of(before));
  CHECK(packs_on(after, first_wednesday) == 0);
  CHECK(at.row(home)["items"][0]["in_house"] == 2);
}

TEST_CASE("nothing is planned any more for a round that was cancelled: who was on it is planned with another",
          "[desk]") {
  DeskWorld at;
  at.count(at.household("h-1"), 2);
  const auto before = at.desk.plan("agency");
  const auto number = at.desk.confirm(at.doing(), before->tag, {first_wednesday}).rounds[0].number;
  at.desk.set_round_state(at.doing(), first_wednesday, RoundState::cancelled, number);
  const auto after = at.desk.plan("agency");
  CHECK(packs_on(after, first_wednesday) == 0);
  CHECK(changed_rounds(*after).count(first_wednesday) == 0);
  CHECK(after->material.input.households.at(0).needs.size() == before->material.input.households.at(0).needs.size());
  CHECK(!after->plan.left.empty());  // its tape does not reach the next one: that is said, not hidden
}

TEST_CASE("what is under way for a later day does not hide that a home falls short before", "[desk]") {
  DeskWorld at;
  const auto home = at.household("h-1");
  at.count(home, 4);
  const auto draft = at.desk.plan("agency");
  const auto confirmed = at.desk.confirm(at.doing(), draft->tag, {first_wednesday});
  at.desk.set_round_state(at.doing(), first_wednesday, RoundState::loaded, confirmed.rounds[0].number);
  CHECK(at.row(home)["reaches_next_round"] == true);
  at.count(home, 0);
  CHECK(at.row(home)["reaches_next_round"] == false);
  std::size_t needs = 0;
  for (const auto& household : at.desk.plan("agency")->material.input.households) needs += household.needs.size();
  CHECK(needs > 0);
}

TEST_CASE("a home that no plan has stands before those that have all they need", "[desk]") {
  DeskWorld at;
  const auto home = at.household("z-1", nullptr), other = at.household("a-1");
  at.count(home, 50);
  at.count(other, 50);
  auto& board = *at.desk.board("agency");
  board.catch_up();
  const auto rows = Json::parse(*board.page(0, 0).json);
  const auto& list = rows["rows"];
  REQUIRE(list.size() == 2);
  CHECK(list[0]["household"] == "z-1");
  CHECK(list[0]["attention"][0] == "no_area");
}

TEST_CASE("of two planners who confirm one round the second is told, and nothing of his is stored", "[desk]") {
  DeskWorld at;
  const auto one = at.household("h-1"), other = at.household("h-2");
  at.count(one, 2);
  at.count(other, 2);
  const auto seen_by_both = at.desk.plan("agency");
  at.desk.confirm(at.doing(), seen_by_both->tag, {first_wednesday});
  const auto entries = at.desk.desk_of(other).last_entry;
  const auto journal = at.households.journal().version("agency");
  CHECK(problem_of([&] { at.desk.confirm(at.doing(), seen_by_both->tag, {first_wednesday}); }) == "outdated");
  CHECK(problem_of([&] { at.desk.confirm(at.doing(), "p0-0", {first_wednesday}); }) == "outdated");
  CHECK(at.desk.desk_of(other).last_entry == entries);
  CHECK(at.households.journal().version("agency") == journal);
  const auto same = at.doing();
  const auto anew = at.desk.plan("agency");
  CHECK(problem_of([&] { at.desk.confirm(same, anew->tag, {"north 2026-02-25"}); }) == "out-of-range");
}

TEST_CASE("a round whose day went by since the plan was made is not confirmed", "[desk]") {
  DeskWorld at;
  at.count(at.household("h-1"), 2);
  at.clock.advance(std::chrono::hours(48));  // Tuesday
  const auto draft = at.desk.plan("agency");
  REQUIRE(packs_on(draft, first_wednesday) > 0);
  const auto journal = at.households.journal().version("agency");
  at.clock.advance(std::chrono::hours(48));
  CHECK(problem_of([&] { at.desk.confirm(at.doing(), draft->tag, {first_wednesday}); }) == "out-of-range");
  CHECK(at.households.journal().version("agency") == journal);
}

TEST_CASE("two wearers behind one door are two households and one stop", "[desk]") {
  DeskWorld at;
  for (const char* reference : {"h-1", "h-2"}) {
    const auto home = at.household(reference);
    at.count(home, 2);
    at.record(home, desk::stop_place, {{"area", "north"}, {"stop", "S-12"}});
  }
  const auto draft = at.desk.plan("agency");
  CHECK(draft->plan.figures.visits == static_cast<long>(draft->plan.stops.size()));
  const auto& stop = draft->plan.stops.front();
  CHECK(stop.address == "S-12");
  std::set<std::string> served;
  for (const auto& delivery : stop.deliveries) served.insert(delivery.household);
  CHECK(served == std::set<std::string>{"h-1", "h-2"});
  at.desk.confirm(at.doing(), draft->tag, {stop.round});
  CHECK(at.agency().rounds.at(stop.round).stops == 1);
  CHECK(at.desk.on_round("agency", stop.round).size() == 2);
}

TEST_CASE("who cannot be planned is named with what would help; the plan holds for the others", "[desk]") {
  DeskWorld at;
  at.count(at.household("h-1"), 2);
  at.count(at.household("h-2", nullptr), 2);
  at.count(at.household("h-3", "south"), 2);
  const auto draft = at.desk.plan("agency");
  REQUIRE(draft->material.not_planned.size() == 2);
  CHECK(draft->material.not_planned[0].what == "has no area");
  CHECK(draft->material.not_planned[1].what == "no round to come serves its area \"south\"");
  CHECK(draft->material.input.households.size() == 1);
  CHECK(rounds::problems_of(draft->material.input).empty());
}

TEST_CASE("closed ends stops at once, with the round's totals, and the list keeps it last; reopened, it is planned",
          "[desk]") {
  DeskWorld at;
  const auto home = at.household("h-1"), other = at.household("h-2");
  at.count(home, 2);
  at.count(other, 2);
  const auto draft = at.desk.plan("agency");
  at.desk.confirm(at.doing(), draft->tag, {first_wednesday});
  const int both = packs_in(at.agency().rounds.at(first_wednesday).totals);
  const auto ended = at.desk.close(at.doing(), home);
  REQUIRE(ended.size() == 1);
  CHECK(ended[0].round == first_wednesday);
  CHECK(rounds::iso(ended[0].date) == "2026-03-04");
  CHECK(at.agency().rounds.at(first_wednesday).stops == 1);
  CHECK(2 * packs_in(at.agency().rounds.at(first_wednesday).totals) == both);
  CHECK(at.desk.close(at.doing(), home).empty());
  at.desk.board("agency")->catch_up();
  CHECK(Json::parse(*at.desk.board("agency")->page(0, 0).json)["rows"][1]["household"] == "h-1");
  CHECK(at.desk.plan("agency")->material.input.households.size() == 1);
  CHECK(problem_of([&] { at.desk.confirm(at.doing(), draft->tag, {"north 2026-03-11"}); }) != "none");
  at.record(home, desk::reopened, Json::object());
  CHECK(at.desk.plan("agency")->material.input.households.size() == 2);
}

TEST_CASE("a decision by hand is kept and taken back, and says first whom it leaves short", "[desk]") {
  DeskWorld at;
  at.count(at.household("h-1"), 2);
  const auto draft = at.desk.plan("agency");
  const rounds::Change leave_out{"h-1", first_wednesday, std::nullopt};
  const auto consequence = at.desk.consequence("agency", draft->tag, leave_out);
  CHECK_FALSE(consequence.falls.empty());
  at.desk.decide(at.doing(), draft->tag, leave_out);
  const auto without = at.desk.plan("agency");
  CHECK(packs_on(without, first_wednesday) == 0);
  CHECK_FALSE(without->plan.left.empty());
  CHECK_FALSE(at.row("agency/h-1")["cannot_be_served"].empty());
  at.desk.forget_decision(at.doing(), "h-1", first_wednesday);
  CHECK(packs_on(at.desk.plan("agency"), first_wednesday) == packs_on(draft, first_wednesday));
  CHECK(problem_of([&] {
          at.desk.consequence("agency", draft->tag, {"h-9", first_wednesday, std::nullopt});
        }) == "out-of-range");
}

TEST_CASE("short stock leaves somebody, with more packs among the remedies", "[desk]") {
  DeskWorld at;
  at.count(at.household("h-1"), 1);
  at.count(at.household("h-2"), 1);
  at.agency_stock({{"what", "received"}, {"item", "tape"}, {"lot", "T1"}, {"packs", 1}});
  const auto draft = at.desk.plan("agency");
  REQUIRE(draft->plan.figures.stock_short);
  REQUIRE_FALSE(draft->plan.left.empty());
  const auto& left = draft->plan.left.front();
  CHECK(std::count(left.reasons.begin(), left.reasons.end(), rounds::Why::stock_short) == 1);
  const auto remedies = rounds::remedies_for(draft->material.input, draft->plan, left.address);
  REQUIRE_FALSE(remedies.empty());
  CHECK(std::any_of(remedies.begin(), remedies.end(),
                    [](const auto& one) { return one.kind == rounds::RemedyKind::more_packs; }));
}

TEST_CASE("the same things give the same draft; what is written gives another", "[desk]") {
  DeskWorld at;
  const auto home = at.household("h-1");
  at.count(home, 2);
  const auto draft = at.desk.plan("agency");
  CHECK(at.desk.plan("agency") == draft);
  at.record(home, desk::ask, Json::object());
  CHECK(at.desk.plan("agency") == draft);
  at.count(home, 3);
  CHECK(at.desk.plan("agency") != draft);
}

TEST_CASE("a delivery that did not come stands at the top until another is planned; taken back, it counts once",
          "[desk]") {
  DeskWorld at;
  const auto home = at.household("h-1");
  at.count(home, 2);
  const auto draft = at.desk.plan("agency");
  const auto number = at.desk.confirm(at.doing(), draft->tag, {first_wednesday}).rounds[0].number;
  at.desk.set_round_state(at.doing(), first_wednesday, RoundState::left, number);
  at.desk.delivery_not_received(at.doing(), home, first_wednesday);
  CHECK(at.row(home)["attention"][0] == "did_not_come");
  CHECK(at.tape_in(home) == 2);
  at.desk.delivery_received(at.doing(), home, first_wednesday, std::nullopt);  // the neighbour had it
  const int with_it = at.tape_in(home);
  CHECK(with_it > 2);
  const auto answer = at.desk.desk_of(home).last_entry;
  at.households.undo({home, kind::undo, at.clock.now(), "", Json{{"entry", answer}}.dump(), at.key()}, answer);
  at.desk.delivery_received(at.doing(), home, first_wednesday, std::nullopt);
  CHECK(at.tape_in(home) == with_it);
}

TEST_CASE("a draft of another start of the service is refused by that name; what was decided stands", "[desk]") {
  DeskWorld at;
  at.count(at.household("h-1"), 2);
  const auto draft = at.desk.plan("agency");
  at.desk.decide(at.doing(), draft->tag, {"h-1", first_wednesday, std::nullopt});
  const auto seen = at.desk.plan("agency");
  const auto entries = at.desk.desk_of("agency/h-1").last_entry;
  PlannerDesk anew(*at.store, at.households);
  const auto refused = [&](const auto& work) {
    try {
      work();
    } catch (const Problem& problem) {
      return kind_of(problem.code()).name == std::string("outdated") && problem.more.value("restarted", false);
    }
    return false;
  };
  CHECK(refused([&] { anew.confirm(at.doing(), seen->tag, {"north 2026-03-11"}); }));
  CHECK(refused([&] { anew.consequence("agency", seen->tag, {"h-1", first_wednesday, std::nullopt}); }));
  CHECK(refused([&] { anew.decide(at.doing(), seen->tag, {"h-1", std::nullopt, first_wednesday}); }));
  CHECK(anew.desk_of("agency/h-1").last_entry == entries);
  const auto again = anew.plan("agency");
  CHECK(again->tag != seen->tag);
  CHECK(packs_on(again, first_wednesday) == 0);
  CHECK(problem_of([&] { anew.confirm(at.doing(), again->tag, {"north 2026-03-11"}); }) == "none");
}

TEST_CASE("whom the plan cannot serve stands on the list without anybody opening the plan, and is cleared when closed",
          "[desk]") {
  DeskWorld at;
  const auto home = at.household("h-1");
  at.count(home, 2);                                                                      // six days of tape
  at.agency_stock({{"what", "counted"}, {"item", "tape"}, {"lot", "T1"}, {"packs", 0}});  // and nothing to bring
  at.desk.begin();
  const auto says = [&] { return at.row(home)["cannot_be_served"]; };
  for (int tries = 0; tries < 200 && says().empty(); ++tries)
    std::this_thread::sleep_for(std::chrono::milliseconds(100));
  REQUIRE(says().size() >= 1);
  CHECK(says()[0]["reasons"].dump().find("stock_short") != std::string::npos);
  at.desk.close(at.doing(), home);
  CHECK(says().empty());
}

TEST_CASE("a round that was marked as left by mistake is loaded again; what was received stays received", "[desk]") {
  DeskWorld at;
  const auto home = at.household("h-1"), other = at.household("h-2");
  at.count(home, 2);
  at.count(other, 2);
  at.agency_stock({{"what", "counted"}, {"item", "tape"}, {"lot", "T1"}, {"packs", 20}});
  const auto draft = at.desk.plan("agency");
  at.desk.confirm(at.doing(), draft->tag, {first_wednesday});
  const auto step = [&](RoundState state) {
    at.desk.set_round_state(at.doing(), first_wednesday, state, at.agency().number_of(first_wednesday));
  };
  step(RoundState::left);
  const int packs = packs_in(at.agency().rounds.at(first_wednesday).totals);
  at.desk.delivery_received(at.doing(), home, first_wednesday, std::nullopt);
  const int received = (at.tape_in(home) - 2) / 5;
  REQUIRE(received > 0);
  step(RoundState::loaded);
  CHECK(at.row(other)["deliveries"][0]["state"] == "loaded");
  CHECK(at.tape_in(home) == 2 + 5 * received);
  CHECK(at.agency().lots.at(0).packs == 20 - packs);  // it is on the van still
  at.clock.advance(std::chrono::hours(25));           // by Monday noon: its day has not come
  CHECK(at.row(other)["deliveries"][0]["state"] == "loaded");
  step(RoundState::left);
  CHECK(at.row(other)["deliveries"][0]["state"] == "left");
  step(RoundState::loaded);
  step(RoundState::cancelled);  // what h-1 received does not come back
  CHECK(at.agency().lots.at(0).packs == 20 - received);
  CHECK(at.tape_in(home) == 2 + 5 * received);
  CHECK(at.row(other)["deliveries"].empty());
  step(RoundState::cancelled);  // again: it is so
  CHECK(problem_of([&] { step(RoundState::loaded); }) == "out-of-range");
}

TEST_CASE("a home whose forecast fails shows none: what was forecast before is put away", "[desk]") {
  DeskWorld at;
  const auto home = at.household("h-1");
  at.count(home, 2);
  CHECK(at.row(home)["computed_at"].is_string());
  // Somebody else's file, or an older program's: no reader takes it.
  at.store->append({home, kind::reading, at.clock.now(), at.clock.now(), "", R"({"side":"nowhere"})", at.key()});
  at.desk.board("agency")->touch(home);
  const auto row = at.row(home);
  CHECK(row["computed_at"].is_null());
  CHECK(row["left"].is_null());
  CHECK(row["right"].is_null());
  CHECK(row["attention"].dump().find("no_forecast") != std::string::npos);
}

TEST_CASE("what is open in a closed home is said: a message, a delivery that is out; seen and answered, it is done",
          "[desk]") {
  DeskWorld at;
  const auto home = at.household("h-1");
  at.count(home, 2);
  const auto draft = at.desk.plan("agency");
  const auto number = at.desk.confirm(at.doing(), draft->tag, {first_wednesday}).rounds[0].number;
  at.desk.set_round_state(at.doing(), first_wednesday, RoundState::left, number);
  const auto told = at.record(home, desk::message, {{"about", "unit_trouble"}});
  at.desk.close(at.doing(), home);
  const auto is_open = [&] {
    const auto attention = at.row(home)["attention"];
    return std::find(attention.begin(), attention.end(), "closed_with_open") != attention.end();
  };
  CHECK(is_open());
  at.record(home, desk::message_seen, {{"entry", told}});
  CHECK(is_open());
  at.desk.delivery_not_received(at.doing(), home, first_wednesday);
  CHECK_FALSE(is_open());
}
