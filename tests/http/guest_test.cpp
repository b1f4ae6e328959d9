// SPDX-License-Identifier: MIT
// What a guest's phone may do, and under whose name phones and staff record. Expected: section 10 of DEVELOPERS.md.
#include "tests/support/catch.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {

/// A phone of the household h-1.
std::string kitchen_phone(const Service& service) {
  return service.let_in({"--role", "household", "--household", "h-1", "--label", "Kitchen phone"});
}

}  // namespace

TEST_CASE("a guest has an end and hours; a household's phone invites for its own household alone", "[http]") {
  Home home;
  HttpClient kitchen(home.service.port(), kitchen_phone(home.service));
  json wish{{"role", "guest"}, {"label", "School"}, {"hours", {{"from", "08:00"}, {"to", "08:00"}}}};
  CHECK(kitchen.post(api + "/invitations", wish).problem() == "missing");
  wish["until"] = from_now(-60);
  CHECK(kitchen.post(api + "/invitations", wish).problem() == "out-of-range");
  wish["until"] = from_now(86400);
  const auto invited = kitchen.post(api + "/invitations", wish);
  REQUIRE(invited.status == 201);
  HttpClient school(home.service.port(), "");
  const auto session = school.post(api + "/invitations/accept", {{"code", invited.json()["code"]}}).json();
  CHECK(session["role"] == "guest");
  CHECK(session["hours"] == json{{"from", "08:00"}, {"to", "08:00"}});
  CHECK(session["until"].is_string());
  CHECK(school.get(api + "/households/h-1/forecast").status == 200);
  CHECK(school.get(api + "/households/h-1/phones").problem() == "not-allowed");
  CHECK(kitchen.post(api + "/invitations", {{"role", "planner"}, {"label", "x"}}).problem() == "not-allowed");
  CHECK(kitchen.post(api + "/invitations", {{"role", "household"}, {"household", "h-2"}, {"label", "x"}}).problem() ==
        "unknown-household");
}

TEST_CASE("outside its hours a guest reads and records nothing, and is told which they are", "[http]") {
  Home home;  // in Oslo, one or two hours ahead of UTC: never within an hour that begins six hours from now by UTC
  HttpClient kitchen(home.service.port(), kitchen_phone(home.service));
  const auto clock = [](long seconds) { return from_now(seconds).substr(11, 5); };
  const json hours{{"from", clock(6L * 3600)}, {"to", clock(7L * 3600)}};
  const auto invited = kitchen.post(
      api + "/invitations", {{"role", "guest"}, {"label", "School"}, {"until", from_now(86400)}, {"hours", hours}});
  HttpClient school(home.service.port(), "");
  REQUIRE(school.post(api + "/invitations/accept", {{"code", invited.json()["code"]}}).status == 201);
  const auto read = school.get(at_home + "/forecast");
  CHECK(read.status == 403);
  CHECK(read.problem() == "outside-hours");
  CHECK_THAT(read.json()["detail"].get<std::string>(),
             holds("from " + hours["from"].get<std::string>() + " to " + hours["to"].get<std::string>()));
  const auto before = kitchen.get(at_home + "/entries").body;
  const auto recorded = school.post(at_home + "/readings", {{"at", from_now(-60)}, {"side", "left"}, {"percent", 60}});
  CHECK(recorded.problem() == "outside-hours");
  CHECK(kitchen.get(at_home + "/entries").body == before);
  CHECK(school.get(api + "/session").json()["hours"] == hours);  // it may still see who it is, and why not
}

TEST_CASE("what a guest may not record it may not take back", "[http]") {
  Home home;
  HttpClient kitchen(home.service.port(), kitchen_phone(home.service));
  const auto invited =
      kitchen.post(api + "/invitations", {{"role", "guest"}, {"label", "School"}, {"until", from_now(86400)}});
  HttpClient school(home.service.port(), "");
  REQUIRE(school.post(api + "/invitations/accept", {{"code", invited.json()["code"]}}).status == 201);
  const auto entries = kitchen.get(api + "/households/h-1/entries").json()["entries"];
  for (const auto& entry : entries) {
    const bool setup = entry["kind"] == "unit" || entry["kind"] == "settings";
    const auto answer = school.post(api + "/households/h-1/voids", {{"entry", entry["id"]}});
    CHECK(answer.status == (setup ? 403 : 201));
  }
}

TEST_CASE("a guest neither ends more pacing nor says that it goes on: plans are not a guest's (section 10)", "[http]") {
  Home home;
  HttpClient kitchen(home.service.port(), kitchen_phone(home.service));
  const auto invited =
      kitchen.post(api + "/invitations", {{"role", "guest"}, {"label", "School"}, {"until", from_now(86400)}});
  HttpClient school(home.service.port(), "");
  REQUIRE(school.post(api + "/invitations/accept", {{"code", invited.json()["code"]}}).status == 201);
  const auto more = kitchen.post(at_home + "/paced-more",
                                 {{"sides", {"left"}}, {"from", from_now(-4 * 86400)}, {"hours_per_day", 24}});
  const json still{{"entry", more.json()["entry"]["id"]}, {"answer", "still"}};
  const json end{{"entry", more.json()["entry"]["id"]}, {"at", from_now(-60)}};
  CHECK(school.post(at_home + "/ends", end).problem() == "not-allowed");
  CHECK(school.post(at_home + "/answers", still).problem() == "not-allowed");
  CHECK(kitchen.post(at_home + "/answers", still).status == 201);
}

TEST_CASE("who recorded is the phone's label, whatever it sends; staff may say another", "[http]") {
  Home home;
  HttpClient kitchen(home.service.port(), kitchen_phone(home.service));
  const auto path = api + "/households/h-1/readings";
  json reading{{"at", from_now(-60)}, {"side", "left"}, {"percent", 62}};
  CHECK(kitchen.post(path, reading).json()["entry"]["who"] == "Kitchen phone");
  const auto invited =
      kitchen.post(api + "/invitations", {{"role", "guest"}, {"label", "School"}, {"until", from_now(86400)}});
  HttpClient school(home.service.port(), "");
  REQUIRE(school.post(api + "/invitations/accept", {{"code", invited.json()["code"]}}).status == 201);
  reading["who"] = "The night nurse";
  CHECK(kitchen.post(path, reading).json()["entry"]["who"] == "Kitchen phone");
  reading["who"] = "Kitchen phone";
  CHECK(school.post(path, reading).json()["entry"]["who"] == "School");
  const auto named = school.send("POST", path, json{{"at", from_now(-60)}, {"side", "left"}, {"percent", 62}}.dump(),
                                 {"Idempotency-Key: " + new_key(), "Cellarer-Who: Kitchen phone"});
  CHECK(named.json()["entry"]["who"] == "School");
  reading["who"] = "The night nurse, by telephone";
  CHECK(home.client.post(path, reading).json()["entry"]["who"] == "The night nurse, by telephone");
}
