// SPDX-License-Identifier: MIT
// One thing sent twice is stored once (draft-ietf-httpapi-idempotency-key-header-07: a reused key with another
// content is 422).
#include <thread>

#include "tests/support/catch.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {}

TEST_CASE("the same key with the same body answers the same entry and stores one", "[http]") {
  Home at;
  const json body{{"at", from_now(-60)}, {"side", "left"}, {"percent", 80}};
  const auto first = at.client.post(at_home + "/readings", body, "once");
  const auto again = at.client.post(at_home + "/readings", body, "once");
  REQUIRE(first.status == 201);
  CHECK(again.status == 201);
  CHECK(again.headers.count("idempotency-replayed") == 1);
  CHECK(again.json()["entry"] == first.json()["entry"]);
  CHECK(at.client.get(at_home + "/entries?limit=1").json()["entries"][0]["id"] == first.json()["entry"]["id"]);
}

TEST_CASE("the same key with another body, or at another address, is refused", "[http]") {
  Home at;
  json body{{"at", from_now(-60)}, {"side", "left"}, {"percent", 80}};
  REQUIRE(at.client.post(at_home + "/readings", body, "once").status == 201);
  body["percent"] = 79;
  const auto other = at.client.post(at_home + "/readings", body, "once");
  CHECK(other.status == 422);
  CHECK(other.problem() == "key-reused");
  const auto elsewhere =
      at.client.post(at_home + "/stock-counts", {{"at", from_now(-60)}, {"item", "tape"}, {"quantity", 1}}, "once");
  CHECK(elsewhere.problem() == "key-reused");
}

TEST_CASE("a write without a key, or with one that cannot be, stores nothing", "[http]") {
  Home at;
  const auto body = json{{"at", from_now(-60)}, {"side", "left"}, {"percent", 80}}.dump();
  const auto before = at.client.get(at_home + "/entries").body;
  CHECK(at.client.send("POST", at_home + "/readings", body).status == 400);
  CHECK(at.client.send("POST", at_home + "/readings", body).problem() == "missing-key");
  CHECK(at.client.send("POST", at_home + "/readings", body, {"Idempotency-Key: " + std::string(201, 'k')}).problem() ==
        "missing-key");
  CHECK(at.client.send("POST", "/api/v1/households", "{}").problem() == "missing-key");
  CHECK(at.client.get(at_home + "/entries").body == before);
}

TEST_CASE("one key sent by many at the same time is stored once, and all get the one entry", "[http]") {
  Home at;
  const json body{{"at", from_now(-60)}, {"side", "right"}, {"percent", 77}};
  std::vector<std::thread> phones;
  std::vector<Answer> answers(12);
  for (std::size_t i = 0; i < answers.size(); ++i) {
    phones.emplace_back([&, i] {
      HttpClient phone(at.service.port());
      answers[i] = phone.post(at_home + "/readings", body, "at-once");
    });
  }
  for (auto& phone : phones) phone.join();
  int replayed = 0;
  for (const auto& answer : answers) {
    REQUIRE(answer.status == 201);
    CHECK(answer.json()["entry"] == answers[0].json()["entry"]);
    replayed += answer.headers.count("idempotency-replayed") == 1 ? 1 : 0;
  }
  CHECK(replayed == 11);
}

TEST_CASE("a household sent twice under one key is made once", "[http]") {
  Service service;
  HttpClient client(service.port());
  const json body{{"household", "h-2"}, {"zone", "Europe/Oslo"}, {"changing_times", {"21:30"}}, {"area", "north"}};
  CHECK(client.post("/api/v1/households", body, "a").status == 201);
  CHECK(client.post("/api/v1/households", body, "a").status == 201);
  const auto taken = client.post("/api/v1/households", body, "b");
  CHECK(taken.status == 409);
  CHECK(taken.problem() == "household-exists");
  CHECK(client.get("/api/v1/households").json()["households"].size() == 1);
}
