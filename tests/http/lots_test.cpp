// SPDX-License-Identifier: MIT
// Lots over HTTP: a recall reaches the phone at once, one list to call, one export, a number corrected once.
#include <chrono>
#include <thread>

#include "tests/support/catch.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {

/// The home of `Home`, whose cells in both sides get a lot, and a planner.
struct Desk {
  Home home;
  HttpClient planner{home.service.port(),
                     home.service.let_in({"--role", "planner", "--label", "Desk", "--without-passkey"})};
  HttpClient phone{home.service.port(),
                   home.service.let_in({"--role", "household", "--household", "h-1", "--label", "Phone"})};

  Desk() {
    const json change{{"at", from_now(-3600)},
                      {"side", "left"},
                      {"reason", "planned"},
                      {"cells", {{"profile", "lr6-family"}, {"lot", "A1"}}}};
    REQUIRE(home.client.post(api + "/households/h-1/cell-changes", change).status == 201);
  }
  json forecast() { return phone.get(api + "/households/h-1/forecast").json(); }
};

}  // namespace

TEST_CASE("a recall reaches the phone at once, and its undo too", "[lots]") {
  Desk desk;
  CHECK(desk.forecast()["sides"]["left"]["recalled"].is_null());
  CHECK(desk.forecast()["stock"][0]["usable"] == 22);

  const auto recalled = desk.planner.post(api + "/lots/recalls", {{"lot", "A1"}, {"why", "short"}}, "r1");
  REQUIRE(recalled.status == 201);
  CHECK(recalled.json()["sides"] == 2);
  CHECK(recalled.json()["homes"] == 1);
  CHECK(desk.planner.post(api + "/lots/recalls", {{"lot", "A1"}, {"why", "short"}}, "r1").json() == recalled.json());
  CHECK(desk.planner.post(api + "/lots/recalls", {{"lot", "A1"}}).problem() == "already-recalled");
  CHECK(desk.phone.post(api + "/lots/recalls", {{"lot", "A1"}}).problem() == "not-allowed");

  const auto forecast = desk.forecast();
  const auto& left = forecast["sides"]["left"];
  CHECK(left["recalled"]["lot"] == "A1");
  CHECK(left["change_by_reason"] == "recall");
  const auto limit = left["limit"].get<std::string>();
  CHECK(limit.starts_with("Change at the next changing time, "));
  CHECK(limit.ends_with("; this lot is recalled."));
  const auto& cells = forecast["stock"][0];
  CHECK(cells["usable"] == 0);
  CHECK(cells["recalled"] == 22);
  CHECK(cells["lots"][0]["recalled"] == true);
  CHECK(cells["sentence"] == "No cells in the house but of a recalled lot.");
  CHECK(cells["limit"].get<std::string>().find("22 of a recalled lot: set them apart.") != std::string::npos);
  CHECK(left["to_change"].is_null() == (left["phrase"] == "expected_to_last_tonight"));
  if (!left["to_change"].is_null()) CHECK(left["to_change"]["lot"].is_null());

  REQUIRE(desk.planner.post(api + "/lots/recalls/undo", {{"lot", "A1"}}).status == 201);
  CHECK(desk.planner.post(api + "/lots/recalls/undo", {{"lot", "A1"}}).problem() == "not-recalled");
  CHECK(desk.forecast()["sides"]["left"]["recalled"].is_null());
  CHECK(desk.forecast()["stock"][0]["usable"] == 22);
  REQUIRE(desk.planner.post(api + "/lots/recalls", {{"lot", "A1"}}).status == 201);  // again
}

TEST_CASE("an old forecast made again knows the recalls of then, and no later ones", "[lots]") {
  Desk desk;
  const auto before = from_now(0);
  std::this_thread::sleep_for(std::chrono::milliseconds(1100));
  REQUIRE(desk.planner.post(api + "/lots/recalls", {{"lot", "A1"}}).status == 201);
  const auto then = [&](const std::string& at) {
    const auto made = desk.home.client.get(api + "/households/h-1/forecast-then?at=" + at);
    INFO(made.body);
    REQUIRE(made.status == 200);
    return made.json()["sides"]["left"]["recalled"];
  };
  CHECK(then(before).is_null());
  CHECK(then(from_now(0))["lot"] == "A1");
}

TEST_CASE("one list to call: who holds it in a side first, who was called last; the same as lines", "[lots]") {
  Desk desk;
  const json second{{"household", "h-2"}, {"zone", "Europe/Oslo"}, {"changing_times", {"21:30"}}, {"area", "=cmd"}};
  REQUIRE(desk.home.client.post(api + "/households", second).status == 201);
  const json count{{"at", from_now(-60)}, {"item", "cells"}, {"lot", "A1"}, {"quantity", 40}};
  REQUIRE(desk.planner.post(api + "/households/h-2/stock-counts", count).status == 201);
  REQUIRE(desk.planner.post(api + "/lots/recalls", {{"lot", "A1"}}).status == 201);
  const auto calls = [&] { return desk.planner.get(api + "/lots/recalls/calls?lot=A1").json(); };
  auto list = calls()["calls"];
  REQUIRE(list.size() == 2);
  CHECK(list[0]["household"] == "h-1");
  CHECK(list[0]["sides"] == json::array({"left", "right"}));
  CHECK(list[1]["quantity"] == 40);
  CHECK(list[1]["usable_left"] == 0);
  REQUIRE(desk.planner.post(api + "/households/h-1/recall-calls", {{"lot", "A1"}, {"note", "will change tonight"}})
              .status == 201);
  list = calls()["calls"];
  CHECK(list[1]["household"] == "h-1");
  CHECK(list[1]["called_by"] == "Desk");
  CHECK(calls()["recalled"]["to_call"] == 1);
  CHECK(calls()["recalled"]["by"] == "Desk");
  const auto lines = desk.planner.get(api + "/lots/recalls/calls.csv?lot=A1");
  CHECK(lines.headers.at("content-type") == "text/csv; charset=utf-8");
  CHECK(lines.body.starts_with(
      "household,area,stop,sides,quantity,on_its_way,did_not_come,usable_left,why_first,called_at,called_by\r\n"));
  CHECK(lines.body.find("h-2,'=cmd,") != std::string::npos);
}

TEST_CASE("one lot: where it is, who used it, how it did; asked for by its wrong number it answers too", "[lots]") {
  Desk desk;
  REQUIRE(desk.planner.post(api + "/lots/corrections", {{"from", "Al"}, {"to", "A1"}}).status == 201);
  const auto lot = desk.planner.get(api + "/lots/one?lot=Al").json();
  CHECK(lot["lot"] == "A1");
  CHECK(lot["asked_as"] == "Al");
  CHECK(lot["written_as"] == json{"Al"});
  REQUIRE(lot["places"].size() == 1);
  CHECK(lot["places"][0]["quantity"] == 22);
  REQUIRE(lot["sides"].size() == 2);
  CHECK(lot["sides"][0]["side"] == "left");
  CHECK(lot["sides"][0]["phrase"] == "expected_to_last_tonight");
  CHECK(lot["did"]["ratio"].is_null());
  CHECK(desk.planner.get(api + "/lots/one?lot=zz").problem() == "unknown-lot");
  CHECK(desk.planner.get(api + "/lots/one").problem() == "missing");
  CHECK(desk.planner.get(api + "/lots").json()["lots"][0]["sentence"] == "22 in 1 home, in 2 sides.");
  CHECK(desk.planner.post(api + "/lots/corrections", {{"from", "A1"}, {"to", "A1"}}).problem() == "out-of-range");
  CHECK(desk.planner.post(api + "/lots/corrections", {{"from", "A1"}, {"to", "Al"}}).problem() == "out-of-range");
  CHECK(desk.planner.get(api + "/lots/corrections").json()["corrections"][0]["by"] == "Desk");
}

TEST_CASE("a lot's page is there at once after a recall, and says how many sides the list is being made anew for",
          "[lots]") {
  Desk desk;
  REQUIRE(desk.planner.post(api + "/lots/recalls", {{"lot", "A1"}}).status == 201);
  const auto page = [&] { return desk.planner.get(api + "/lots/one?lot=A1").json(); };
  auto lot = page();
  CHECK(lot["recalled"]["entry"].is_number());
  REQUIRE(lot["sides"].size() == 2);
  for (const auto& side : lot["sides"])
    CHECK(side["phrase"].is_null() == (lot["being_made"].get<int>() == 2));  // none of what was said before the recall
  for (int tries = 0; tries < 300 && lot["being_made"] != 0; ++tries) {
    std::this_thread::sleep_for(std::chrono::milliseconds(100));
    lot = page();
  }
  CHECK(lot["being_made"] == 0);
  for (const auto& side : lot["sides"]) {
    CHECK(side["phrase"].is_string());
    CHECK(side["change_by"].is_string());
  }
}
