// SPDX-License-Identifier: MIT
// How long the planner's list of 5 000 households takes at the service, and where a lot is: printed, to be read by
// people; no machine is asked to be quick.
#include <chrono>
#include <iostream>

#include "server/service/lots.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/desk_world.hpp"

using namespace cellarer;
using namespace cellarer::testing;

namespace {

double milliseconds(const std::chrono::steady_clock::time_point since) {
  return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - since).count();
}

/// In so many homes: looked for as the list has been made, again, and after a recall.
void time_lot(DeskWorld& at, std::size_t homes) {
  const auto timed = [&](const char* what) {
    const auto start = std::chrono::steady_clock::now();
    const auto story = service::lot_story(at.households, "agency", {"cells", "L7"});
    std::cout << "where is a lot, " << what << ": " << milliseconds(start) << " ms" << std::endl;
    REQUIRE(story);
    CHECK(story->homes.size() == homes);
    CHECK(story->line.in_homes == static_cast<std::int64_t>(24 * homes));
  };
  timed("asked for first");
  timed("the same again");
  const Json recall{{"item", "cells"}, {"lot", "L7"}, {"recalled", true}};
  at.households.journal().record(
      {"agency", service::agency_kind::lot_recall, "cells/L7", recall.dump(), at.key(), "planner"});
  timed("right after its recall");
}

/// Rows in the list.
std::size_t time_list(std::size_t count) {
  DeskWorld at;
  for (std::size_t i = 0; i < count; ++i) {
    const auto home = at.household("h-" + std::to_string(i), i % 3 == 0 ? "south" : "north", 2.0 + i % 5);
    at.count(home, static_cast<int>(i % 40));
    at.record(home, service::kind::stock_count,
              {{"at", json::rfc3339(at.clock.now(), nullptr)},
               {"item", "cells"},
               {"lot", "L" + std::to_string(i % 20)},
               {"quantity", 24}});
  }
  auto& board = *at.desk.board("agency");
  auto begun = std::chrono::steady_clock::now();
  while (board.work()) {
  }
  std::cout << "planner's list, " << count << " households: rows made beside the service in " << milliseconds(begun)
            << " ms\n";
  const auto timed = [&](const char* what, std::size_t limit) {
    const auto start = std::chrono::steady_clock::now();
    board.catch_up();
    const auto page = board.page(0, limit);
    std::cout << what << ": " << milliseconds(start) << " ms, " << page.json->size() << " bytes\n";
    return page;
  };
  const auto first = timed("first view, 200 rows", 200);
  const auto again = timed("the same again", 200);
  const auto all = timed("all rows", 0);
  CHECK(again.json == first.json);
  at.count("agency/h-77", 1);
  const auto changed = timed("after one household recorded something", 200);
  CHECK(changed.etag != first.etag);
  begun = std::chrono::steady_clock::now();
  const auto draft = at.desk.plan("agency");
  std::cout << "plan of 4 weeks, from board to draft: " << milliseconds(begun) << " ms, " << draft->plan.figures.visits
            << " visits, " << draft->material.not_planned.size() << " households without a round" << std::endl;
  CHECK(board.progress().whole());
  time_lot(at, count / 20);
  return Json::parse(*all.json)["rows"].size();
}

}  // namespace

TEST_CASE("a list of 200 households is answered from finished bytes; the times are printed", "[desk]") {
  CHECK(time_list(200) == 200);
}

TEST_CASE("a list of 5 000 households is answered from finished bytes; the times are printed", "[.long][long][desk]") {
  CHECK(time_list(5000) == 5000);
}
