// SPDX-License-Identifier: MIT
// What an agency's administrator does: the trail, the stock ledger, erasing a
// household.
#include "tests/support/catch.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {

/// The one line of the ledger; balanced.
json ledger(HttpClient &client) {
  const auto lines = client.get("/api/v1/stock-ledger").json()["lines"];
  REQUIRE(lines.size() == 1);
  const auto of = [&](const char *name) { return lines[0][name].get<int>(); };
  CHECK(of("received") == of("used") + of("discarded") + of("unaccounted") + of("in_homes") + of("left_with_erased"));
  return lines[0];
}

Answer erase(HttpClient &client, const char *household, const json &body) {
  return client.send("POST", std::string("/api/v1/households/") + household + "/erase", body.dump(),
                     {"Content-Type: application/json"});
}

}  // namespace

TEST_CASE("an erased household is gone for everybody; trail and ledger stay whole", "[agency]") {
  Home at;
  const auto phone = at.service.let_in({"--role", "household", "--household", "h-1", "--label", "Kitchen phone"});
  HttpClient kitchen(at.service.port(), phone);
  REQUIRE(kitchen.get("/api/v1/households/h-1/forecast").status == 200);
  const auto before = ledger(at.client);
  CHECK(before["in_homes"] == 24);

  CHECK(erase(at.client, "h-1", {{"erase", "h-2"}}).status == 422);
  CHECK(erase(at.client, "h-9", {{"erase", "h-9"}}).status == 404);
  CHECK(erase(kitchen, "h-1", {{"erase", "h-1"}}).status == 403);
  const auto erased = erase(at.client, "h-1", {{"erase", "h-1"}});
  REQUIRE(erased.status == 200);
  CHECK(erased.json()["entries"] == 6);
  CHECK(erased.json()["phones"] == 1);

  CHECK(at.client.get("/api/v1/households/h-1/forecast").status == 404);
  CHECK(at.client.get("/api/v1/households/h-1/entries").status == 404);
  CHECK(kitchen.get("/api/v1/households/h-1/forecast").status == 401);
  CHECK(at.client.get("/api/v1/households").json()["households"].empty());
  const auto after = ledger(at.client);
  CHECK(after["in_homes"] == 0);
  CHECK(after["left_with_erased"] == 24);
  CHECK(after["received"] == before["received"]);

  const auto trail = at.client.get("/api/v1/audit?limit=200");
  REQUIRE(trail.status == 200);
  CHECK(trail.json()["whole"] == true);
  CHECK(trail.json()["first_break"].is_null());
  CHECK(trail.json()["links"][0]["action"] == "erased");
  CHECK(trail.body.find("h-1") == std::string::npos);
  CHECK(trail.body.find("Kitchen") == std::string::npos);
  CHECK(run_cellarer({"check", "--data", at.service.data()}).code == 0);
}

TEST_CASE("the trail is read in pages, newest first, and tells who did what", "[agency]") {
  Home at;
  REQUIRE(at.client.get("/api/v1/households/h-1/export").json()["entries"].size() == 6);
  const auto first = at.client.get("/api/v1/audit?limit=3").json();
  REQUIRE(first["links"].size() == 3);
  CHECK(first["links"][0]["action"] == "exported");
  CHECK(first["links"][0]["household"] == "h-1");
  CHECK(first["links"][1]["action"] == "stock_count");
  CHECK(first["links"][1]["subject"] == "6");
  CHECK(first["links"][1]["who"] == first["links"][0]["who"]);
  const auto next = at.client.get("/api/v1/audit?limit=3&cursor=" + first["next"].get<std::string>()).json();
  CHECK(first["whole"] == true);
  CHECK_FALSE(next.contains("whole"));  // said once, with the newest page
  CHECK(next["links"][0]["number"].get<int>() == first["links"][2]["number"].get<int>() - 1);
  HttpClient planner(at.service.port(),
                     at.service.let_in({"--role", "planner", "--label", "Desk", "--without-passkey"}));
  CHECK(planner.get("/api/v1/audit").status == 403);
  CHECK(planner.get("/api/v1/stock-ledger").status == 200);
}
