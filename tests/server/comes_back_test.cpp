// SPDX-License-Identifier: MIT
// What a closed home gives back. Expected, from issue 5 ("Closed" lists what comes back) and from the agency's own
// records: a unit is where it was last recorded.
#include "server/service/bench_journal.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/desk_world.hpp"

using namespace cellarer;
using namespace cellarer::service;
using namespace cellarer::testing;

TEST_CASE("what a closed home gives back names the unit in use and the spares, and none that was replaced", "[desk]") {
  DeskWorld at;
  const auto home = at.household("h-1");
  const auto unit = [&](const char* serial, int day, bool spare) {
    const auto from = json::rfc3339(at.clock.now() - std::chrono::hours(24 * (30 - day)), nullptr);
    at.record(home, kind::unit, {{"serial", serial}, {"stimulator", "two-cells"}, {"from", from}, {"spare", spare}});
  };
  unit("u-1", 1, false);
  unit("u-2", 2, true);
  unit("u-3", 3, false);   // in place of u-1
  unit("u-4", 60, false);  // has not come yet
  const auto names = [&] {
    std::vector<std::string> all;
    for (const auto& one : at.desk.comes_back_of(home)) all.push_back(one.what);
    return all;
  };
  CHECK(names() == std::vector<std::string>{"unit u-3", "unit u-2"});
  unit("u-2", 10, false);  // the spare is in use now
  CHECK(names() == std::vector<std::string>{"unit u-2"});
}

TEST_CASE("a closed home does not give back a unit that the workshop or another home has by now", "[desk]") {
  DeskWorld at;
  const auto home = at.household("h-1"), other = at.household("h-2");
  const auto days_ago = [&](int days) {
    return json::rfc3339(at.clock.now() - std::chrono::hours(24 * days), nullptr);
  };
  const auto unit = [&](const std::string& where, const char* serial, int days, bool spare) {
    at.record(where, kind::unit,
              {{"serial", serial}, {"stimulator", "two-cells"}, {"from", days_ago(days)}, {"spare", spare}});
  };
  const auto event = [&](const char* serial, const char* what, int days) {
    const Json body{{"serial", serial}, {"what", what}, {"at", days_ago(days)}};
    return at.households.journal()
        .record({"agency", agency_kind::unit_event, serial, body.dump(), at.key(), "bench"})
        .entry.number;
  };
  const auto names = [&] {
    at.row(home);  // the list has read all
    std::vector<std::string> all;
    for (const auto& one : at.desk.comes_back_of(home)) all.push_back(one.what);
    return all;
  };
  unit(other, "u-1", 200, false);  // it was there before
  unit(home, "u-1", 100, false);
  unit(home, "u-2", 90, true);
  unit(home, "u-3", 80, true);
  CHECK(names() == std::vector<std::string>{"unit u-1", "unit u-2", "unit u-3"});
  unit(other, "u-2", 10, false);
  CHECK(names() == std::vector<std::string>{"unit u-1", "unit u-3"});
  event("u-3", "fault", 9);  // noted, and it stayed
  const auto went = event("u-1", "workshop", 8);
  CHECK(names() == std::vector<std::string>{"unit u-3"});
  const Json undo{{"serial", "u-1"}, {"what", "void"}, {"voids", went}};
  at.households.journal().record({"agency", agency_kind::unit_event, "u-1", undo.dump(), at.key(), "bench"});
  CHECK(names() == std::vector<std::string>{"unit u-1", "unit u-3"});
  event("u-1", "withdrawn", 5);
  unit(home, "u-1", 2, false);  // back from there
  CHECK(names() == std::vector<std::string>{"unit u-1", "unit u-3"});
}
