// SPDX-License-Identifier: MIT
// What the agency has on order. Expected, from issue 5: bookkeeping identities (what was ordered and came is there
// once), and a plan takes of a lot only what is there or still to come.
#include "tests/support/catch.hpp"
#include "tests/support/desk_world.hpp"

using namespace cellarer;
using namespace cellarer::service;
using namespace cellarer::testing;

TEST_CASE("what is on order stands beside what is there, until it is received or counted", "[desk]") {
  DeskWorld at;  // 1 March 2026
  const auto book = [&](const char* what, const char* lot, int packs, const char* arrives = nullptr) {
    Json body{{"what", what}, {"item", "tape"}, {"lot", lot}, {"packs", packs}};
    if (arrives != nullptr) body["arrives"] = arrives;
    at.agency_stock(body);
  };
  using Rows = std::vector<std::pair<int, bool>>;  // packs, and whether they are on order
  const auto rows_of = [&](const char* lot) {
    Rows rows, on_the_board;
    for (const auto& row : at.agency().lots)
      if (row.lot == lot) rows.emplace_back(row.packs, row.arrives.has_value());
    for (const auto& row : at.desk.board("agency")->frame().agency.lots)
      if (row.lot == lot) on_the_board.emplace_back(row.packs, row.arrives.has_value());
    CHECK(rows == on_the_board);  // entry by entry, or all at once
    return rows;
  };
  book("ordered", "OX", 10, "2026-03-09");
  CHECK(rows_of("OX") == Rows{{10, true}});
  book("received", "OX", 4);
  CHECK(rows_of("OX") == Rows{{4, false}, {6, true}});
  book("received", "OX", 6);
  CHECK(rows_of("OX") == Rows{{10, false}});
  book("received", "A", 260);
  book("ordered", "A", 5, "2026-03-02");
  CHECK(rows_of("A") == Rows{{260, false}, {5, true}});
  book("discarded", "A", 1);
  book("counted", "A", 258);  // before it can have come
  CHECK(rows_of("A") == Rows{{258, false}, {5, true}});
  book("ordered", "A", 7, "2026-03-02");  // the order is another now
  CHECK(rows_of("A") == Rows{{258, false}, {7, true}});
  at.clock.advance(std::chrono::hours(24));
  book("counted", "A", 264);
  CHECK(rows_of("A") == Rows{{264, false}});
}

TEST_CASE(
    "an order that does not come is cancelled before its day, in part or whole, and is on order again when undone",
    "[desk]") {
  DeskWorld at;
  at.count(at.household("h-1"), 2);
  const Json order{{"what", "ordered"}, {"item", "tape"}, {"lot", "T1"}, {"packs", 9}, {"arrives", "2026-03-03"}};
  const auto cancel = [&](int packs) {
    at.agency_stock({{"what", "cancelled"}, {"item", "tape"}, {"lot", "T1"}, {"packs", packs}});
  };
  const auto planned = [&] {
    int packs = 0;
    for (const auto& stop : at.desk.plan("agency")->plan.stops)
      for (const auto& delivery : stop.deliveries) packs += delivery.packs;
    return packs;
  };
  at.agency_stock(order);
  CHECK(planned() > 0);
  cancel(4);
  CHECK(at.agency().lots.at(0).packs == 5);
  cancel(5);
  CHECK(at.agency().lots.empty());
  CHECK(at.agency().keeps_stock);
  CHECK(planned() == 0);
  at.agency_stock(order);
  CHECK(at.agency().lots.at(0).packs == 9);
  CHECK(at.agency().lots.at(0).arrives == Date{std::chrono::year{2026} / 3 / 3});
  CHECK(planned() > 0);
}

TEST_CASE("a plan takes from a lot that is there and on order, each from its day", "[desk]") {
  DeskWorld at;
  at.count(at.household("h-1"), 2);
  at.agency_stock({{"what", "received"}, {"item", "tape"}, {"lot", "T1"}, {"packs", 1}});
  at.agency_stock({{"what", "ordered"}, {"item", "tape"}, {"lot", "T1"}, {"packs", 9}, {"arrives", "2026-03-09"}});
  const auto draft = at.desk.plan("agency");
  int early = 0, all = 0;
  for (const auto& stop : draft->plan.stops)
    for (const auto& delivery : stop.deliveries) {
      all += delivery.packs;
      if (stop.date < Date{std::chrono::year{2026} / 3 / 9}) early += delivery.packs;
    }
  CHECK(early == 1);
  CHECK(all > 1);
}

TEST_CASE("an order counts from its day on that day alone: overdue it is no stock until it is received", "[desk]") {
  DeskWorld at;
  at.count(at.household("h-1"), 2);
  at.agency_stock({{"what", "ordered"}, {"item", "tape"}, {"lot", "T1"}, {"packs", 9}, {"arrives", "2026-03-02"}});
  const auto packs_in_plan = [&] {
    int packs = 0;
    for (const auto& stop : at.desk.plan("agency")->plan.stops)
      for (const auto& delivery : stop.deliveries) packs += delivery.packs;
    return packs;
  };
  CHECK(packs_in_plan() > 0);
  at.clock.advance(std::chrono::hours(24));  // its day
  CHECK(packs_in_plan() > 0);
  at.clock.advance(std::chrono::hours(24));
  CHECK(packs_in_plan() == 0);
  at.agency_stock({{"what", "received"}, {"item", "tape"}, {"lot", "T1"}, {"packs", 9}});
  CHECK(packs_in_plan() > 0);
}

TEST_CASE("what is only on order is not loaded: it is received first", "[desk]") {
  DeskWorld at;
  at.count(at.household("h-1"), 2);
  at.agency_stock({{"what", "ordered"}, {"item", "tape"}, {"lot", "T1"}, {"packs", 9}, {"arrives", "2026-03-03"}});
  const auto draft = at.desk.plan("agency");
  at.desk.confirm(at.doing(), draft->tag, {first_wednesday});
  const auto step = [&](RoundState state) {
    at.desk.set_round_state(at.doing(), first_wednesday, state, at.agency().number_of(first_wednesday));
  };
  CHECK(problem_of([&] { step(RoundState::loaded); }) == "out-of-range");
  CHECK(problem_of([&] { step(RoundState::left); }) == "out-of-range");
  CHECK(at.agency().state_of(first_wednesday) == RoundState::planned);
  at.agency_stock({{"what", "received"}, {"item", "tape"}, {"lot", "T1"}, {"packs", 9}});
  step(RoundState::loaded);
  step(RoundState::left);
  int packs = 0;
  const auto agency = at.agency();
  for (const auto& lot : agency.rounds.at(first_wednesday).totals) packs += lot.packs;
  CHECK(at.agency().lots.at(0).packs == 9 - packs);
}
