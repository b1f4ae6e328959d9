// SPDX-License-Identifier: MIT
// Reading: versions, pages of lists, what a household's page gets.
#include "tests/support/catch.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {}

TEST_CASE("an unchanged forecast is a 304, and a write makes it a new version", "[http]") {
  Home at;
  const auto first = at.client.get(at_home + "/forecast");
  const auto etag = first.headers.at("etag");
  const auto unchanged = at.client.get(at_home + "/forecast", {"If-None-Match: " + etag});
  CHECK(unchanged.status == 304);
  CHECK(unchanged.body.empty());
  CHECK(unchanged.headers.at("etag") == etag);
  at.client.post(at_home + "/readings", {{"at", from_now(-60)}, {"side", "left"}, {"percent", 80}});
  const auto changed = at.client.get(at_home + "/forecast", {"If-None-Match: " + etag});
  CHECK(changed.status == 200);
  CHECK(changed.headers.at("etag") != etag);
}

TEST_CASE("the chart of a side has its points and readings; the side is never assumed", "[http]") {
  Home at;
  at.client.post(at_home + "/readings", {{"at", from_now(-60)}, {"side", "left"}, {"percent", 80}});
  const auto chart = at.client.get(at_home + "/chart?side=left");
  REQUIRE(chart.status == 200);
  CHECK(chart.json()["side"] == "left");
  CHECK(chart.json()["points"].size() > 2);
  CHECK(chart.json()["readings"].size() == 1);
  CHECK(at.client.get(at_home + "/chart").status == 422);
  CHECK(at.client.get(at_home + "/chart?side=both").problem() == "out-of-range");
}

TEST_CASE("entries come newest first in pages that follow each other", "[http]") {
  Home at;
  std::vector<int> numbers;
  std::string cursor;
  do {
    const auto page = at.client.get(at_home + "/entries?limit=2" + (cursor.empty() ? "" : "&cursor=" + cursor)).json();
    REQUIRE(page["entries"].size() <= 2);
    for (const auto& entry : page["entries"]) numbers.push_back(entry["id"].get<int>());
    cursor = page["next"].is_null() ? "" : page["next"].get<std::string>();
  } while (!cursor.empty());
  CHECK(numbers == std::vector<int>{6, 5, 4, 3, 2, 1});
  for (const char* wrong : {"?limit=0", "?limit=201", "?limit=many", "?cursor=-1", "?cursor=x"}) {
    INFO(wrong);
    CHECK(at.client.get(at_home + "/entries" + wrong).status == 422);
  }
}

TEST_CASE("households come in pages in the order of their references", "[http]") {
  Service service;
  HttpClient client(service.port());
  for (const char* name : {"h-3", "h-1", "h-2"}) {
    client.post("/api/v1/households", {{"household", name}, {"zone", "UTC"}, {"changing_times", {"21:30"}}});
  }
  const auto first = client.get("/api/v1/households?limit=2").json();
  CHECK(first["households"][0]["household"] == "h-1");
  CHECK(first["households"][1]["household"] == "h-2");
  const auto rest = client.get("/api/v1/households?limit=2&cursor=" + first["next"].get<std::string>()).json();
  CHECK(rest["households"].size() == 1);
  CHECK(rest["next"].is_null());
}

TEST_CASE("a household tells which cells each side was recorded to have, in hospital too, and of which none were",
          "[http]") {
  Home at;
  const auto cells_of = [&](const std::string& path) { return at.client.get(path).json()["cells"]; };
  at.client.post("/api/v1/households", {{"household", "h-new"}, {"zone", "UTC"}, {"changing_times", {"21:30"}}});
  CHECK(cells_of("/api/v1/households/h-new") == json{{"left", nullptr}, {"right", nullptr}});
  const json change{{"at", from_now(-7200)}, {"side", "left"}, {"reason", "planned"}, {"cells", {{"lot", "B2"}}}};
  REQUIRE(at.client.post(at_home + "/cell-changes", change).status == 201);
  REQUIRE(at.client.post(at_home + "/hospital", {{"from", from_now(-3600)}}).status == 201);
  const auto cells = cells_of(at_home);
  CHECK(cells["left"]["lot"] == "B2");
  CHECK(cells["left"]["profile"].is_null());  // nobody noted it
  CHECK(cells["left"]["since"].is_string());
  CHECK(cells["right"]["lot"] == "A1");
  CHECK(cells["right"]["profile"] == "lr6-family");
}

TEST_CASE("a household tells what its forms need, in its own zone", "[http]") {
  Home at;
  const auto page = at.client.get(at_home).json();
  CHECK(page["changing_times"] == json{"21:30"});
  REQUIRE(page["units"].size() == 1);
  CHECK(page["units"][0]["cells_in_series"] == 2);
  CHECK(page["settings"]["left"]["rate_per_min"] == 12);
  CHECK(page["lots"][0]["lot"] == "A1");
  CHECK(page["lots"][0]["quantity"] == 24);
  CHECK(page["cell_profiles"].size() > 3);
  CHECK((page["as_of"].get<std::string>().ends_with("+01:00") || page["as_of"].get<std::string>().ends_with("+02:00")));
}

TEST_CASE("loading much at once may ask for the entry alone", "[http]") {
  Home at;
  const auto body = json{{"at", from_now(-60)}, {"side", "left"}, {"percent", 80}}.dump();
  const auto answer =
      at.client.send("POST", at_home + "/readings", body, {"Idempotency-Key: " + new_key(), "Prefer: return=minimal"});
  CHECK(answer.status == 201);
  CHECK(answer.headers.at("preference-applied") == "return=minimal");
  CHECK_FALSE(answer.json().contains("forecast"));
}

TEST_CASE("a record's answer has the household's document where it is asked for, as it is told afterwards", "[http]") {
  Home at;
  const json change{{"at", from_now(-60)},
                    {"side", "left"},
                    {"reason", "planned"},
                    {"from_stock", true},
                    {"cells", {{"profile", "lr6-family"}, {"lot", "A1"}}}};
  const auto answer = at.client.send("POST", at_home + "/cell-changes", change.dump(),
                                     {"Idempotency-Key: " + new_key(), "Prefer: return=representation"});
  REQUIRE(answer.status == 201);
  CHECK(answer.headers.at("preference-applied") == "return=representation");
  auto brought = answer.json()["household"];
  auto told = at.client.get(at_home).json();
  CHECK(brought["last_entry"] == answer.json()["entry"]["id"]);
  CHECK(brought["lots"][0]["quantity"] == 22);  // of the 24 that were counted (Home::settle), less the two that went in
  brought.erase("as_of");
  told.erase("as_of");
  CHECK(brought == told);
  CHECK_FALSE(at.client.post(at_home + "/readings", {{"at", from_now(-30)}, {"side", "left"}, {"percent", 80}})
                  .json()
                  .contains("household"));  // the other clients are not sent it
}

TEST_CASE("who recorded it is the phone's label, from the body or the header", "[http]") {
  Home at;
  json body{{"at", from_now(-60)}, {"side", "left"}, {"percent", 80}};
  const auto by_header = at.client.send("POST", at_home + "/readings", body.dump(),
                                        {"Idempotency-Key: " + new_key(), "Cellarer-Who: kitchen phone"});
  CHECK(by_header.json()["entry"]["who"] == "kitchen phone");
  body["who"] = "night phone";
  CHECK(at.client.post(at_home + "/readings", body).json()["entry"]["who"] == "night phone");
}

TEST_CASE("a stay answers what to pack", "[http]") {
  Home at;
  const auto answer = at.client.post(at_home + "/stays", {{"from", from_now(86400)}, {"to", from_now(8 * 86400)}});
  REQUIRE(answer.status == 201);
  const auto packing = answer.json()["packing"];
  CHECK(packing["cells"].get<int>() == 2 * packing["sets"].get<int>());
  CHECK(packing["cells"].get<int>() > 0);
  CHECK(packing["odds_text"].get<std::string>().size() > 5);
}
