// SPDX-License-Identifier: MIT
// What a home answered did not come. Expected, from issue 5 (lots: where is lot X; what was received or counted alone
// is stock) and from bookkeeping: every piece that came into the store is there, in a home, on its way, known not to
// have come, or written off, once.
#include <algorithm>

#include "server/service/lots.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/desk_world.hpp"

using namespace cellarer;
using namespace cellarer::service;
using namespace cellarer::testing;

namespace {

const std::string the_wednesday = "north 2026-03-04";
constexpr int in_the_store = 20, pieces_a_pack = 5, packs_each = 3;

/// A round with two homes that has left the store, three packs of lot T1 for each.
struct RoundOut : DeskWorld {
  RoundOut() {
    agency_stock(
        {{"what", "received"}, {"item", "tape"}, {"lot", "T1"}, {"packs", in_the_store}, {"expires", "2030-06"}});
    for (const auto& [key, stop] : {std::pair{home, "h-1"}, std::pair{other, "h-2"}}) {
      count(key, 2);
      const Json lots{{{"lot", "T1"}, {"packs", packs_each}, {"expires", "2030-06"}}};
      const Json line{{"item", "tape"}, {"packs", packs_each}, {"pieces_per_pack", pieces_a_pack}, {"lots", lots}};
      record(key, service::desk::planned_delivery,
             {{"round", the_wednesday}, {"date", "2026-03-04"}, {"stop", stop}, {"lines", {line}}});
    }
    const rounds::Round round{the_wednesday, "north", Date{std::chrono::year{2026} / 3 / 4}, 10, 1};
    const auto planned = round_entry(round, RoundState::planned, 2, {{"tape", "T1", 2 * packs_each, std::nullopt}});
    households.journal().record({"agency", service::desk::round, the_wednesday, planned.dump(), key(), "planner"});
    step(RoundState::left);
  }
  void step(RoundState state) {
    desk.set_round_state(doing(), the_wednesday, state, agency().number_of(the_wednesday));
  }
  LotStory story() { return lot_story(households, "agency", {"tape", "T1"}).value(); }
  LotLine line() { return story().line; }
  int planned(const std::string& key) {
    const auto of_home = desk.desk_of(key);
    int pieces = 0;
    for (const auto& one : of_home.delivery_on(the_wednesday)->lines) pieces += one.packs * pieces_a_pack;
    return pieces;
  }
  bool balances() {
    const auto at = line();
    INFO(at.in_agency << " " << at.in_homes << " " << at.on_its_way << " " << at.did_not_come << " " << at.lost);
    CHECK(at.in_agency + at.in_homes + at.on_its_way + at.did_not_come + at.lost == in_the_store * pieces_a_pack);
    return at.received == at.used + at.discarded + at.unaccounted + at.in_homes + at.left_with_erased;
  }
  void settle(const std::string& key, Whereabouts whereabouts) {
    desk.settle(doing(), key, the_wednesday, whereabouts);
  }
  void receive(const std::string& key, int pieces) {
    stock::Line came;
    came.item = "tape";
    came.lot = "T1";
    came.quantity = pieces;
    desk.delivery_received(doing(), key, the_wednesday, std::vector{came});
  }
  std::int64_t take_back_answer(const std::string& key) {
    const auto answer = desk.desk_of(key).last_entry;
    const auto with_it = desk.booked_with(key, answer);
    desk.unsettle(doing(), key, answer);
    households.undo({key, kind::undo, clock.now(), "", Json{{"entry", answer}}.dump(), this->key()}, answer, with_it);
    return answer;
  }

  std::string home = household("h-1"), other = household("h-2");
};

}  // namespace

TEST_CASE("what did not come is looked for by its lot, with home, stop and round; back in the store or lost, once",
          "[desk]") {
  RoundOut at;
  const int pieces = at.planned(at.home);
  REQUIRE(pieces == packs_each * pieces_a_pack);
  CHECK(at.balances());
  at.desk.delivery_not_received(at.doing(), at.home, the_wednesday);
  const auto story = at.story();
  CHECK(story.line.did_not_come == pieces);
  CHECK(story.line.homes_did_not_come == 1);
  CHECK(story.line.on_its_way == at.planned(at.other));
  const auto missed = std::find_if(story.homes.begin(), story.homes.end(),
                                   [](const LotHome& one) { return !one.at.did_not_come.empty(); });
  REQUIRE(missed != story.homes.end());
  CHECK(missed->household == at.home);
  CHECK(missed->at.did_not_come.at(0).round == the_wednesday);
  CHECK(missed->at.did_not_come.at(0).stop == "h-1");
  CHECK(missed->at.did_not_come.at(0).said_at == at.clock.now());
  CHECK(missed->at.pieces() == 0);
  CHECK(at.balances());
  at.step(RoundState::done);
  CHECK(at.line().did_not_come == pieces);
  const auto before = at.line().in_agency;
  at.settle(at.home, Whereabouts::came_back);
  CHECK(at.line().did_not_come == 0);
  CHECK(at.line().in_agency == before + pieces);
  CHECK(at.balances());
  at.settle(at.home, Whereabouts::came_back);  // once more: it is so already
  CHECK(at.line().in_agency == before + pieces);
  at.settle(at.home, Whereabouts::lost);  // put right
  CHECK(at.line().in_agency == before);
  CHECK(at.line().lost == pieces);
  CHECK(at.balances());
  at.settle(at.home, Whereabouts::not_known);
  CHECK(at.line().lost == 0);
  CHECK(at.line().did_not_come == pieces);
  CHECK(at.balances());
  CHECK(problem_of([&] { at.settle(at.other, Whereabouts::lost); }) == "out-of-range");
}

TEST_CASE("of a delivery that came in part the rest did not come; odd pieces do not come back as a pack", "[desk]") {
  RoundOut at;
  const int pieces = at.planned(at.home);
  at.receive(at.home, 3);
  CHECK(at.line().did_not_come == pieces - 3);
  CHECK(at.line().in_homes == 3);
  CHECK(at.balances());
  const auto before = at.line().in_agency;
  at.settle(at.home, Whereabouts::came_back);
  CHECK(at.line().in_agency == before + pieces - pieces_a_pack);
  CHECK(at.line().lost == pieces_a_pack - 3);
  CHECK(at.line().did_not_come == 0);
  CHECK(at.balances());
}

TEST_CASE("what came without a number of a lot is taken for what was planned", "[desk]") {
  RoundOut at;
  stock::Line came;
  came.item = "tape";
  came.quantity = at.planned(at.home);
  at.desk.delivery_received(at.doing(), at.home, the_wednesday, std::vector{came});
  CHECK(at.line().did_not_come == 0);
}

TEST_CASE("what came after all, or an answer that is taken back, is in one place again", "[desk]") {
  RoundOut at;
  const int pieces = at.planned(at.home);
  at.desk.delivery_not_received(at.doing(), at.home, the_wednesday);
  const auto said = at.desk.desk_of(at.home).last_entry;
  at.settle(at.home, Whereabouts::came_back);
  at.desk.delivery_received(at.doing(), at.home, the_wednesday, std::nullopt);  // the neighbour had it
  CHECK(at.line().in_homes == pieces);
  CHECK(at.line().did_not_come == 0);
  CHECK(at.balances());
  at.take_back_answer(at.home);  // then what was said before stands again
  CHECK(at.line().did_not_come == pieces);
  at.settle(at.home, Whereabouts::lost);
  CHECK(at.line().lost == pieces);
  at.desk.unsettle(at.doing(), at.home, said);
  at.households.undo({at.home, kind::undo, at.clock.now(), "", Json{{"entry", said}}.dump(), at.key()}, said);
  CHECK(at.line().lost == 0);
  CHECK(at.line().on_its_way == pieces + at.planned(at.other));
  CHECK(at.balances());
}

TEST_CASE("a round that had not left after all: what was said to be back does not come back twice", "[desk]") {
  RoundOut at;
  at.desk.delivery_not_received(at.doing(), at.home, the_wednesday);
  at.settle(at.home, Whereabouts::came_back);
  at.step(RoundState::loaded);
  at.step(RoundState::cancelled);
  CHECK(at.line().in_agency == in_the_store * pieces_a_pack);
  CHECK(at.line().did_not_come == 0);
  CHECK(at.balances());
}

TEST_CASE("what did not come to a home that is erased is written off, and the books name no home", "[desk]") {
  RoundOut at;
  const int pieces = at.planned(at.home);
  at.desk.delivery_not_received(at.doing(), at.home, the_wednesday);
  at.desk.write_off(at.doing(), at.home);
  at.households.erase(at.home, "administrator");
  CHECK(at.line().lost == pieces);
  CHECK(at.line().did_not_come == 0);
  CHECK(at.balances());
  const auto journal = at.households.journal().of("agency");
  for (const auto& entry : *journal) CHECK((entry.body + entry.subject).find("h-1") == std::string::npos);
}

TEST_CASE("what homes say of lots is kept: another home's record, a recall or another lot's number leaves it",
          "[lots]") {
  RoundOut at;
  const auto kept = at.households.home_lots_of(at.home);
  CHECK(at.households.home_lots_of(at.home) == kept);
  at.count(at.other, 9);
  at.recall("T1");
  at.correct_lot("Z1", "Z2");
  CHECK(at.households.home_lots_of(at.home) == kept);
  at.correct_lot("T1", "T7");  // it is on its way there
  CHECK(at.households.home_lots_of(at.home) != kept);
  const auto anew = at.households.home_lots_of(at.home);
  at.count(at.home, 4);
  CHECK(at.households.home_lots_of(at.home) != anew);
  CHECK(lot_story(at.households, "agency", {"tape", "T7"})->line.on_its_way > 0);
}
