// SPDX-License-Identifier: MIT
// The planner's desk over HTTP, from the list to what is in the house: issue 5, points 1 to 3. Expected: packs planned,
// picked and received are the same packs; only what was received is usable; of two planners the second is told.
#include <chrono>
#include <ctime>
#include <thread>

#include "tests/support/catch.hpp"
#include "tests/support/rounds_desk.hpp"
#include "tests/support/schema.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {

/// The draft of a fresh calendar in which h-2 has few pieces of tape left.
json plan_for_h_2(RoundsDesk& at) {
  at.calendar(0);
  REQUIRE(at.home.client
              .post(api + "/households/h-2/stock-counts", {{"at", from_now(-60)}, {"item", "tape"}, {"quantity", 3}})
              .status == 201);
  return at.planner.get(api + "/plan").json();
}

}  // namespace

TEST_CASE("a round from the list to the shelf: stock rises only when it is received, the second planner is told",
          "[http]") {
  RoundsDesk at;
  const auto first_calendar = at.calendar(0);
  CHECK(first_calendar["rounds"].size() == 4);
  CHECK(first_calendar["areas"] == json{"north"});
  REQUIRE(at.home.client
              .post(api + "/households/h-2/stock-counts", {{"at", from_now(-60)}, {"item", "tape"}, {"quantity", 3}})
              .status == 201);
  const auto row = at.row("h-2");
  CHECK(row["next_round"]["date"] == day(2));
  CHECK(row["items"][0]["item"] == "tape");
  CHECK(row["items"][0]["in_house"] == 3);

  const auto plan = at.planner.get(api + "/plan").json();
  REQUIRE_FALSE(plan["rounds"].empty());
  const auto first = plan["rounds"][0];
  const std::string name = first["round"];
  CHECK(first["changed"] == true);
  const int packs = packs_of(first["stops"]);
  REQUIRE(packs > 0);

  HttpClient second(at.home.service.port(), at.staff("Second desk"));
  const json confirm{{"plan", plan["plan"]}, {"rounds", {name}}};
  const auto confirmed = at.planner.post(api + "/plan/confirm", confirm);
  INFO(confirmed.body);
  REQUIRE(confirmed.status == 201);
  const auto refused = second.post(api + "/plan/confirm", confirm);
  CHECK(refused.status == 409);
  CHECK(refused.problem() == "outdated");
  CHECK(refused.json()["round"] == name);
  CHECK(refused.json()["state"] == "planned");

  const auto round_path = api + "/rounds/" + in_path(name);
  auto round = at.planner.get(round_path).json();
  CHECK(packs_of(round["stops"]) == packs);
  CHECK(round["picking"][0]["packs"] == packs);
  CHECK(round["picking"][0]["pieces"] == 5 * packs);
  CHECK(at.row("h-2")["deliveries"][0]["state"] == "planned");
  for (const char* state : {"loaded", "left"}) {
    const auto stepped = at.planner.post(round_path + "/state", {{"state", state}, {"follows", round["number"]}});
    INFO(stepped.body);
    REQUIRE(stepped.status == 201);
    const auto late = second.post(round_path + "/state", {{"state", "cancelled"}, {"follows", round["number"]}});
    CHECK(late.problem() == "outdated");
    round = stepped.json();
    CHECK(round["state"] == state);
    CHECK(at.tape("h-2") == 3);
  }
  CHECK(at.planner.post(round_path + "/state", {{"state", "planned"}, {"follows", round["number"]}}).status == 422);

  HttpClient phone(at.home.service.port(),
                   at.home.service.let_in({"--role", "household", "--household", "h-2", "--label", "Phone"}));
  const auto open = phone.get(api + "/households/h-2/messages").json()["deliveries"];
  REQUIRE(open.size() == 1);
  CHECK(open[0]["state"] == "left");
  const auto came = phone.post(api + "/households/h-2/delivery-answers", {{"round", name}, {"answer", "received"}});
  INFO(came.body);
  REQUIRE(came.status == 201);
  CHECK(came.json()["delivery"]["state"] == "received");
  CHECK(at.tape("h-2") == 3 + 5 * packs);
  CHECK(at.planner.get(round_path).json()["stops"][0]["lines"][0]["state"] == "received");
  CHECK(at.row("h-2")["deliveries"].empty());
  const auto done = at.planner.post(round_path + "/state", {{"state", "done"}, {"follows", round["number"]}});
  CHECK(done.json()["state"] == "done");
  const auto trail = at.home.client.get(api + "/audit?limit=200").json();
  CHECK(trail["whole"] == true);
}

TEST_CASE("running short: the home reads whether the agency has seen it", "[http]") {
  RoundsDesk at;
  HttpClient phone(at.home.service.port(),
                   at.home.service.let_in({"--role", "household", "--household", "h-2", "--label", "Phone"}));
  const auto messages = api + "/households/h-2/messages";
  CHECK(phone.post(messages, {{"about", "hungry"}}).problem() == "out-of-range");
  const auto told = phone.post(messages, {{"about", "running_short"}, {"note", "one roll left"}});
  INFO(told.body);
  REQUIRE(told.status == 201);
  CHECK(told.json()["messages"][0]["text"] == "Running short: not seen by the agency yet. Call.");
  const auto board = at.planner.get(api + "/board?limit=1").json();
  CHECK(board["rows"][0]["household"] == "h-2");
  CHECK(board["rows"][0]["attention"][0] == "message");
  CHECK(board["next"] == "1");
  const auto seen_path = messages + "/" + std::to_string(told.json()["entry"].get<int>()) + "/seen";
  REQUIRE(at.planner.post(seen_path, json::object()).status == 201);
  CHECK(phone.post(seen_path, json::object()).status == 403);
  const auto read = phone.get(messages).json()["messages"][0];
  CHECK(read["text"].get<std::string>().starts_with("Running short: seen by the agency at "));
  CHECK(at.planner.post(messages + "/77/seen", json::object()).problem() == "unknown-entry");
}

TEST_CASE("asked, closed, reopened: each is said plainly and the list follows at once", "[http]") {
  RoundsDesk at;
  const auto home = api + "/households/h-1";
  REQUIRE(at.planner.post(home + "/ask", json::object()).status == 201);
  CHECK_FALSE(at.row("h-1")["asked_at"].is_null());
  REQUIRE(at.planner.post(home + "/stop", {{"area", "north"}, {"stop", "S-1"}}).json()["row"]["stop"] == "S-1");
  const auto closed = at.planner.post(home + "/close", json::object());
  INFO(closed.body);
  REQUIRE(closed.status == 201);
  CHECK(closed.json()["comes_back"].size() == 2);
  CHECK(closed.json()["comes_back"][1]["what"] == "cells, lot A1");
  CHECK(closed.json()["comes_back"][1]["pieces"] == 24);
  CHECK(at.planner.get(api + "/board").json()["rows"][1]["household"] == "h-1");
  CHECK(at.planner.get(home + "/desk").json()["row"]["closed_at"] == closed.json()["closed_at"]);
  CHECK(at.planner.post(home + "/reopen", json::object()).json()["row"]["closed_at"].is_null());
  const auto entries = at.home.client.get(home + "/entries").json()["entries"];
  CHECK(entries[0]["text"] == "Open again.");
  CHECK(entries[1]["text"] == "Closed: no more deliveries and reminders.");
  CHECK(at.home.client.get(home + "/forecast").status == 200);
}

TEST_CASE("a home is closed that has a confirmed stop: which stop ended, on which round and day", "[http]") {
  RoundsDesk at;
  const auto plan = plan_for_h_2(at);
  const auto round = plan["rounds"][0];
  const json confirm{{"plan", plan["plan"]}, {"rounds", {round["round"]}}};
  REQUIRE(at.planner.post(api + "/plan/confirm", confirm).status == 201);
  const auto closed = at.planner.post(api + "/households/h-2/close", json::object());
  REQUIRE(closed.status == 201);
  CHECK(closed.json()["stops_ended"] == json{{{"stop", "h-2"}, {"round", round["round"]}, {"date", round["date"]}}});
  const auto document = at.home.client.get("/api/v1/openapi.json").json();
  CHECK(schema_faults(document, {{"$ref", "#/components/schemas/Closed"}}, closed.json()).empty());
}

TEST_CASE("a confirmed stop, or one that was withdrawn, is not taken back alone: sheet and picking list agree",
          "[http]") {
  RoundsDesk at;
  const auto plan = plan_for_h_2(at);
  const std::string name = plan["rounds"][0]["round"];
  REQUIRE(at.planner.post(api + "/plan/confirm", {{"plan", plan["plan"]}, {"rounds", {name}}}).status == 201);
  const auto path = api + "/rounds/" + in_path(name);
  const auto refused_alone = [&](const char* kind) {
    const auto entries = at.home.client.get(api + "/households/h-2/entries").json()["entries"];
    for (const auto& entry : entries) {
      if (entry["kind"] != kind) continue;
      const auto before = at.planner.get(path).json();
      const auto refused = at.planner.post(api + "/households/h-2/voids", {{"entry", entry["id"]}});
      INFO(refused.body);
      CHECK(refused.status == 409);
      CHECK(refused.problem() == "cannot-be-voided");
      CHECK(refused.json()["detail"] == "Leave the stop out in the plan and confirm the round again.");
      const auto after = at.planner.get(path).json();
      CHECK(after["stops"] == before["stops"]);
      CHECK(after["picking"] == before["picking"]);
      return true;
    }
    return false;
  };
  CHECK(refused_alone("planned_delivery"));
  const json cancel{{"state", "cancelled"}, {"follows", at.planner.get(path).json()["number"]}};
  REQUIRE(at.planner.post(path + "/state", cancel).status == 201);
  CHECK(refused_alone("delivery_withdrawn"));
}

TEST_CASE("what cannot be planned is refused with its place, and nothing is kept", "[http]") {
  RoundsDesk at;
  const auto calendar = at.calendar(0);
  json body{{"follows", calendar["number"]},
            {"rules", {{{"name", "west"}, {"area", "west"}, {"weekdays", {"mon"}}, {"stops", 0}}}}};
  const auto no_stops = at.planner.post(api + "/calendar", body);
  CHECK(no_stops.status == 422);
  CHECK(no_stops.json()["errors"][0]["place"] == "/rules/0/stops");
  body["rules"][0]["stops"] = 5;
  body["rules"][0]["dates"] = {day(-3)};
  CHECK(at.planner.post(api + "/calendar", body).json()["errors"][0]["place"] == "/rules/0/dates/0");
  body["rules"][0].erase("dates");
  body["follows"] = 0;
  CHECK(at.planner.post(api + "/calendar", body).problem() == "outdated");
  CHECK(at.planner.get(api + "/calendar").json()["number"] == calendar["number"]);
  const auto plan = at.planner.get(api + "/plan").json();
  REQUIRE(plan["not_planned"].size() == 1);
  CHECK(plan["not_planned"][0]["household"] == "h-1");
  CHECK(plan["not_planned"][0]["what"] == "has no area");
  CHECK(at.planner.post(api + "/plan/confirm", {{"plan", plan["plan"]}, {"rounds", {"north 2020-01-01"}}}).problem() ==
        "out-of-range");
  CHECK(at.planner.post(api + "/plan/confirm", {{"plan", "p1-1"}, {"rounds", {"north " + day(2)}}}).problem() ==
        "outdated");
  CHECK(at.planner.get(api + "/rounds/nowhere").problem() == "unknown-round");
  const auto stock = at.planner.post(api + "/agency-stock", {{"what", "ordered"}, {"item", "tape"}, {"packs", 3}});
  CHECK(stock.json()["errors"][0]["place"] == "/arrives");
  json late{{"what", "ordered"}, {"item", "tape"}, {"lot", "T1"}, {"packs", 3}, {"arrives", day(-2)}};
  const auto past = at.planner.post(api + "/agency-stock", late);
  CHECK(past.problem() == "out-of-range");
  CHECK(past.json()["errors"][0]["place"] == "/arrives");
  CHECK(at.planner.get(api + "/agency-stock").json()["lots"].empty());
  late["arrives"] = day(2);
  CHECK(at.planner.post(api + "/agency-stock", late).json()["lots"][0]["arrives"] == day(2));
}

TEST_CASE(
    "an order is cancelled before its day: no more than is on order, sent twice it is one, and undone it is there",
    "[http]") {
  RoundsDesk at;
  at.calendar(0);
  const json order{{"what", "ordered"}, {"item", "tape"}, {"lot", "T1"}, {"packs", 3}, {"arrives", day(5)}};
  const auto cancel = [&](int packs, const std::string& key) {
    return at.planner.post(api + "/agency-stock",
                           {{"what", "cancelled"}, {"item", "tape"}, {"lot", "T1"}, {"packs", packs}}, key);
  };
  const auto nothing = cancel(3, "c0");
  CHECK(nothing.problem() == "out-of-range");
  CHECK(nothing.json()["errors"][0]["reason"] == "nothing of that lot is on order");
  REQUIRE(at.planner.post(api + "/agency-stock", order).status == 201);
  const auto more = cancel(4, "c1");
  CHECK(more.json()["errors"][0]["place"] == "/packs");
  CHECK(more.json()["errors"][0]["reason"] == "is more than is on order: 3");
  CHECK(cancel(1, "c2").json()["lots"][0]["packs"] == 2);
  CHECK(cancel(2, "c3").json()["lots"].empty());
  const auto again = cancel(2, "c3");
  CHECK(again.status == 201);
  CHECK(again.json()["lots"].empty());
  CHECK(cancel(2, "c4").problem() == "out-of-range");
  const auto undone = at.planner.post(api + "/agency-stock", order).json()["lots"];
  REQUIRE(undone.size() == 1);
  CHECK(undone[0]["packs"] == 3);
  CHECK(undone[0]["arrives"] == day(5));
}

TEST_CASE("a service that was started anew says so of a plan from before, keeps nothing of it, and plans again",
          "[http]") {
  RoundsDesk at;
  const auto plan = plan_for_h_2(at);
  const std::string name = plan["rounds"][0]["round"];
  REQUIRE(at.home.service.terminate() == 0);
  Service again(nullptr, at.home.service.data());
  HttpClient planner(again.port(), again.let_in({"--role", "planner", "--label", "Desk", "--without-passkey"}));
  const json confirm{{"plan", plan["plan"]}, {"rounds", {name}}};
  const json leave_out{{"plan", plan["plan"]}, {"stop", "h-2"}, {"from", name}};
  for (const auto& [path, body] :
       {std::pair{"/plan/confirm", confirm}, {"/plan/consequence", leave_out}, {"/plan/decisions", leave_out}}) {
    const auto refused = planner.post(api + path, body);
    INFO(path << " " << refused.body);
    CHECK(refused.status == 409);
    CHECK(refused.problem() == "outdated");
    CHECK(refused.json()["restarted"] == true);
    CHECK(refused.json()["detail"].get<std::string>().starts_with(
        "This plan was worked out before the service restarted."));
  }
  const auto anew = planner.get(api + "/plan").json();
  CHECK(anew["rounds"][0]["state"] == "open");
  CHECK(planner.get(api + "/plan/remedies?stop=h-2").status == 200);
  const auto of_nobody = planner.get(api + "/plan/remedies?stop=S-99");
  CHECK(of_nobody.status == 404);
  CHECK(of_nobody.problem() == "not-found");
  CHECK(planner.post(api + "/plan/confirm", {{"plan", anew["plan"]}, {"rounds", {name}}}).status == 201);
}

TEST_CASE("a delivery that came in part becomes stock as it came; taken back with what it booked, it is answered anew",
          "[http]") {
  RoundsDesk at;
  const auto plan = plan_for_h_2(at);
  const std::string name = plan["rounds"][0]["round"];
  const int pieces = 5 * packs_of(plan["rounds"][0]["stops"]);
  REQUIRE(at.planner.post(api + "/plan/confirm", {{"plan", plan["plan"]}, {"rounds", {name}}}).status == 201);
  const auto answers = api + "/households/h-2/delivery-answers";
  const json two_of_another_lot{{{"item", "tape"}, {"lot", "T9"}, {"pieces", 2}}};
  const auto part = at.planner.post(answers, {{"round", name}, {"answer", "received"}, {"lines", two_of_another_lot}});
  INFO(part.body);
  REQUIRE(part.status == 201);
  CHECK(at.tape("h-2") == 3 + 2);
  REQUIRE(part.json()["booked"].size() == 1);
  const json undo{{"entry", part.json()["entry"]}};
  const auto undone = at.planner.post(api + "/households/h-2/voids", undo, "undo-1");
  CHECK(undone.status == 201);
  CHECK(at.tape("h-2") == 3);  // what the answer booked went with it, in the one act
  const auto again = at.planner.post(api + "/households/h-2/voids", undo, "undo-1");
  CHECK(again.status == 201);
  CHECK(again.json()["entry"]["id"] == undone.json()["entry"]["id"]);
  CHECK(at.planner.post(api + "/households/h-2/voids", undo).problem() == "already-voided");
  const auto all = at.planner.post(answers, {{"round", name}, {"answer", "received"}});
  CHECK(all.status == 201);
  CHECK(at.tape("h-2") == 3 + pieces);
}
