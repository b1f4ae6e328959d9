// SPDX-License-Identifier: MIT
// A lot that is recalled after its round was planned, and one that only the agency's store has. Expected, from issue 5:
// a recalled lot leaves stock and plan at once; where is lot X.
#include <algorithm>

#include "tests/support/catch.hpp"
#include "tests/support/rounds_desk.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {

/// Two lots of tape in the agency's store, of which the plan takes the one that expires first.
struct TwoLots : RoundsDesk {
  TwoLots() {
    calendar(0);
    receive("T1", "2029-06");
    receive("T7", "2030-06");
    REQUIRE(home.client
                .post(api + "/households/h-2/stock-counts", {{"at", from_now(-60)}, {"item", "tape"}, {"quantity", 3}})
                .status == 201);
  }
  void receive(const char* lot, const char* expires) {
    const json came{{"what", "received"}, {"item", "tape"}, {"lot", lot}, {"packs", 20}, {"expires", expires}};
    REQUIRE(planner.post(api + "/agency-stock", came).status == 201);
  }
  void recall(const char* lot) {
    REQUIRE(planner.post(api + "/lots/recalls", {{"lot", lot}, {"item", "tape"}}).status == 201);
  }
  std::string confirm_first() {
    const auto plan = planner.get(api + "/plan").json();
    const std::string name = plan["rounds"][0]["round"];
    const auto confirmed = planner.post(api + "/plan/confirm", {{"plan", plan["plan"]}, {"rounds", {name}}});
    INFO(confirmed.body);
    REQUIRE(confirmed.status == 201);
    return name;
  }
  json round(const std::string& name) { return planner.get(api + "/rounds/" + in_path(name)).json(); }
  Answer step(const std::string& name, const char* state) {
    const json body{{"state", state}, {"follows", round(name)["number"]}};
    return planner.post(api + "/rounds/" + in_path(name) + "/state", body);
  }
};

}  // namespace

TEST_CASE(
    "a lot recalled after its round was planned is marked on every list and does not leave; planned again it goes",
    "[http]") {
  TwoLots at;
  const auto name = at.confirm_first();
  CHECK(at.round(name)["picking"][0]["recalled"] == false);
  at.recall("T1");
  const auto marked = at.round(name);
  CHECK(marked["picking"][0]["lot"] == "T1");
  CHECK(marked["picking"][0]["recalled"] == true);
  CHECK(marked["stops"][0]["lines"][0]["lots"][0]["recalled"] == true);
  for (const char* state : {"loaded", "left"}) {
    const auto refused = at.step(name, state);
    CHECK(refused.status == 409);
    CHECK(refused.problem() == "lot-recalled");
    CHECK(refused.json()["lot"] == "T1");
    CHECK_THAT(refused.json()["detail"].get<std::string>(), holds("Confirm the round again from the plan"));
    CHECK(at.round(name)["state"] == "planned");
  }
  CHECK(at.confirm_first() == name);
  CHECK(at.round(name)["picking"][0]["lot"] == "T7");
  CHECK(at.step(name, "left").status == 201);
}

TEST_CASE("a round that is loaded when its lot is recalled does not leave, and can be cancelled", "[http]") {
  TwoLots at;
  const auto name = at.confirm_first();
  REQUIRE(at.step(name, "loaded").status == 201);
  at.recall("T1");
  const auto refused = at.step(name, "left");
  CHECK(refused.problem() == "lot-recalled");
  CHECK_THAT(refused.json()["detail"].get<std::string>(), holds("Cancel the round"));
  CHECK(at.step(name, "cancelled").status == 201);
}

TEST_CASE("a lot that only the agency's store has, has its page, its line and its recall", "[http]") {
  TwoLots at;
  const auto lot = at.planner.get(api + "/lots/one?lot=T7&item=tape");
  REQUIRE(lot.status == 200);
  CHECK(lot.json()["totals"]["in_agency"] == 100);
  CHECK(lot.json()["totals"]["in_homes"] == 0);
  CHECK(lot.json()["places"].empty());
  const auto lots = at.planner.get(api + "/lots").json()["lots"];
  const auto line = std::find_if(lots.begin(), lots.end(), [](const json& one) { return one["lot"] == "T7"; });
  REQUIRE(line != lots.end());
  CHECK((*line)["sentence"] == "In no home now. 100 in the agency's store.");
  CHECK((*line)["expires"] == "2030-06");
  CHECK(
      at.planner.get(api + "/lots/one.csv?lot=T7&item=tape").body ==
      "where,household,area,stop,place_or_side,quantity,expires,since,last_at\r\nagency's store,,,,,100,2030-06,,\r\n");
  at.recall("T7");
  CHECK(at.planner.get(api + "/lots/one?lot=T7&item=tape").json()["recalled"]["to_call"] == 0);
}

TEST_CASE(
    "a lot recalled when its round has left: its homes are on the list to call, by their doors, and in the export",
    "[http]") {
  TwoLots at;
  const json door{{"area", "north"}, {"stop", "S-12"}};
  REQUIRE(at.planner.post(api + "/households/h-2/stop", door).status == 201);
  const auto name = at.confirm_first();
  REQUIRE(at.step(name, "left").status == 201);
  at.recall("T1");
  const auto list = at.planner.get(api + "/lots/recalls/calls?lot=T1&item=tape").json();
  CHECK(list["recalled"]["to_call"] == 1);
  REQUIRE(list["calls"].size() == 1);
  const auto& call = list["calls"][0];
  CHECK(call["household"] == "h-2");
  CHECK(call["stop"] == "S-12");
  CHECK(call["quantity"] == 0);
  CHECK(call["on_its_way"].get<int>() > 0);
  CHECK(call["why_first"] == "on its way");
  const auto pieces = std::to_string(call["on_its_way"].get<int>());
  CHECK(
      at.planner.get(api + "/lots/recalls/calls.csv?lot=T1&item=tape").body.find("h-2,north,S-12,,0," + pieces + ",") !=
      std::string::npos);
  CHECK(at.planner.get(api + "/lots/one.csv?lot=T1&item=tape")
            .body.find("on its way,h-2,north,S-12," + name + "," + pieces + ",2029-06,") != std::string::npos);
  const auto lot = at.planner.get(api + "/lots/one?lot=T1&item=tape").json();
  CHECK(lot["on_its_way"][0]["round"] == name);
  CHECK(lot["totals"]["on_its_way"] == call["on_its_way"]);
  const auto lines = at.planner.get(api + "/lots").json()["lots"];
  CHECK_THAT(lines[0]["sentence"].get<std::string>(), holds("In no home now. " + pieces + " on the way to 1 home."));
}

TEST_CASE(
    "what did not come of a lot is on its page, its line, its list to call and in both exports; back in the store it "
    "is there",
    "[http]") {
  TwoLots at;
  REQUIRE(at.planner.post(api + "/households/h-2/stop", {{"area", "north"}, {"stop", "S-12"}}).status == 201);
  const auto name = at.confirm_first();
  for (const char* state : {"left", "done"}) REQUIRE(at.step(name, state).status == 201);
  const json answer{{"round", name}, {"answer", "not_received"}};
  REQUIRE(at.planner.post(api + "/households/h-2/delivery-answers", answer).status == 201);
  const auto line = at.round(name)["stops"][0]["lines"][0];
  const int pieces = line["did_not_come"];
  CHECK(pieces == line["pieces"]);
  CHECK(line["packs_are"] == "not_known");
  const auto lot = [&] { return at.planner.get(api + "/lots/one?lot=T1&item=tape").json(); };
  const auto did_not_come = lot()["did_not_come"];
  REQUIRE(did_not_come.size() == 1);
  CHECK(did_not_come[0]["household"] == "h-2");
  CHECK(did_not_come[0]["stop"] == "S-12");
  CHECK(did_not_come[0]["round"] == name);
  CHECK(did_not_come[0]["quantity"] == pieces);
  CHECK(lot()["totals"]["did_not_come"] == pieces);
  CHECK(lot()["totals"]["on_its_way"] == 0);
  const auto number = std::to_string(pieces);
  const auto sentence = [&] {
    const auto lots = at.planner.get(api + "/lots").json()["lots"];
    for (const auto& one : lots)
      if (one["lot"] == "T1") return one["sentence"].get<std::string>();
    return std::string();
  };
  CHECK_THAT(sentence(), holds("In no home now. " + number + " did not come to 1 home."));
  CHECK(at.planner.get(api + "/lots/one.csv?lot=T1&item=tape")
            .body.find("did not come,h-2,north,S-12," + name + "," + number + ",2029-06,") != std::string::npos);
  at.recall("T1");
  const auto calls = at.planner.get(api + "/lots/recalls/calls?lot=T1&item=tape").json()["calls"];
  REQUIRE(calls.size() == 1);
  CHECK(calls[0]["did_not_come"] == pieces);
  CHECK(calls[0]["quantity"] == 0);
  CHECK(calls[0]["why_first"] == "did not come");
  CHECK(at.planner.get(api + "/lots/recalls/calls.csv?lot=T1&item=tape").body.find("h-2,north,S-12,,0,0," + number) !=
        std::string::npos);

  const int in_agency = lot()["totals"]["in_agency"];
  const auto settle = [&](const char* packs, const std::string& key) {
    return at.planner.post(api + "/households/h-2/delivery-whereabouts", {{"round", name}, {"packs", packs}}, key);
  };
  const auto back = settle("came_back", "back-1");
  INFO(back.body);
  REQUIRE(back.status == 201);
  CHECK(back.json()["did_not_come"].empty());
  CHECK(back.json()["settled"][0]["lot"] == "T1");
  CHECK(back.json()["sentence"] == "What did not come of " + name + " is back in the agency's store.");
  CHECK(settle("came_back", "back-1").status == 201);  // sent twice, it is one
  CHECK(lot()["totals"]["in_agency"] == in_agency + pieces);
  CHECK(at.round(name)["stops"][0]["lines"][0]["packs_are"] == "came_back");
  CHECK(at.planner.get(api + "/lots/recalls/calls?lot=T1&item=tape").json()["calls"].empty());
  REQUIRE(settle("lost", "lost-1").status == 201);
  CHECK(lot()["totals"]["in_agency"] == in_agency);
  CHECK(lot()["totals"]["lost"] == pieces);
  CHECK_THAT(sentence(), holds(number + " written off."));
  const auto entries = at.planner.get(api + "/households/h-2/entries?limit=1").json()["entries"];
  CHECK(entries[0]["text"] == "What did not come of " + name + " is lost: the agency has written it off.");
  const auto alone = at.planner.post(api + "/households/h-2/voids", {{"entry", entries[0]["id"]}});
  CHECK(alone.problem() == "cannot-be-voided");
  CHECK(settle("elsewhere", "x-1").problem() == "out-of-range");
  const json nowhere{{"round", "north 2001-01-01"}, {"packs", "lost"}};
  CHECK(at.planner.post(api + "/households/h-2/delivery-whereabouts", nowhere).problem() == "out-of-range");
}
