// SPDX-License-Identifier: MIT
// Of which agencies the planner's desk keeps the list, and that one that was let go is made again as it was.
#include <thread>

#include "server/household_key.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/desk_world.hpp"

using namespace cellarer;
using namespace std::chrono_literals;

namespace {

using Steady = std::chrono::steady_clock;

/// Agencies a, b and c of two homes each, and a desk that keeps the rows of four homes.
struct ThreeAgencies : testing::DeskWorld {
  service::PlannerDesk small{*store, households, 4};

  ThreeAgencies() {
    for (const char* agency : {"a", "b", "c"}) {
      for (const char* home : {"h-1", "h-2"}) {
        const testing::Json body{{"household", home}, {"zone", "UTC"}, {"changing_times", {"21:30"}}};
        households.create(household_key(agency, home), body.dump(), key());
      }
    }
  }

  testing::Json opened(const char* agency) {
    const auto board = small.board(agency);
    board->catch_up(true);
    while (board->work()) {
    }
    return testing::Json::parse(*board->page(0, 0).json)["rows"];
  }
};

}  // namespace

TEST_CASE("of lists that nobody uses the desk keeps as many as there is room for, the newest") {
  ThreeAgencies agencies;
  auto& desk = agencies.small;
  const auto first = agencies.opened("a");
  REQUIRE(first.size() == 2);
  agencies.opened("b");
  desk.let_go(Steady::now());
  CHECK(desk.homes_with_rows() == 4);  // there is room for both
  agencies.opened("c");
  CHECK(desk.homes_with_rows() == 6);
  desk.let_go(Steady::now() - 1h);
  CHECK(desk.homes_with_rows() == 6);  // all in use
  desk.let_go(Steady::now());
  CHECK(desk.homes_with_rows() == 4);
  CHECK(agencies.opened("a") == first);
  desk.let_go(Steady::now());  // now b was asked for longest ago
  CHECK(desk.homes_with_rows() == 4);
  const auto held = desk.board("c");
  agencies.opened("b");
  desk.let_go(Steady::now());  // a goes, not c: somebody holds it
  CHECK(desk.homes_with_rows() == 4);
  CHECK(desk.board("c") == held);
}

TEST_CASE("rows begin with the service for as many homes as there is room for, and for others when they are opened") {
  ThreeAgencies agencies;
  auto& desk = agencies.small;
  desk.begin();
  const auto until = Steady::now() + 20s;
  while (desk.homes_with_rows() < 4 && Steady::now() < until) std::this_thread::sleep_for(10ms);
  std::this_thread::sleep_for(50ms);
  CHECK(desk.homes_with_rows() == 4);
  CHECK(agencies.opened("c").size() == 2);
  CHECK(desk.homes_with_rows() == 6);
}

TEST_CASE("a plan's name is not given twice, though its agency's list was let go in between") {
  ThreeAgencies agencies;
  auto& desk = agencies.small;
  agencies.count(agencies.household("h-1"), 40);
  const auto plan_of = [&] {
    desk.board("agency")->catch_up(true);
    return desk.plan("agency")->tag;
  };
  const auto before = plan_of();
  for (const char* agency : {"a", "b"}) agencies.opened(agency);
  desk.let_go(Steady::now());
  REQUIRE(desk.homes_with_rows() == 4);
  CHECK(plan_of() != before);
  CHECK_THROWS_AS(desk.draft("agency", before), Problem);
}
