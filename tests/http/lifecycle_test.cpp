// SPDX-License-Identifier: MIT
// Starting, ending, and what is kept between.
#include <signal.h>

#include <thread>

#include "tests/support/catch.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {
const json house{{"household", "h-1"}, {"zone", "Europe/Oslo"}, {"changing_times", {"21:30"}}};
}  // namespace

TEST_CASE("SIGTERM ends the service in order, with requests under way answered", "[http]") {
  Home at;
  std::vector<std::thread> phones;
  std::atomic<int> answered{0}, refused{0};
  std::atomic<bool> under_way{false};
  for (int i = 0; i < 4; ++i) {
    phones.emplace_back([&, i] {
      HttpClient phone(at.service.port());
      for (int n = 0; n < 200; ++n) {
        const auto answer = phone.post("/api/v1/households/h-1/readings",
                                       {{"at", from_now(-600 + i)}, {"side", "left"}, {"percent", 80 - n % 3}},
                                       "phone" + std::to_string(i) + "-" + std::to_string(n));
        if (answer.status == 201)
          ++answered, under_way = true;
        else if (++refused > 0)
          return;
      }
    });
  }
  while (!under_way) std::this_thread::yield();
  CHECK(at.service.terminate() == 0);
  for (auto& phone : phones) phone.join();
  CHECK(at.service.log().find("ended in order") != std::string::npos);
  // What was answered as stored is stored.
  Service again(nullptr, at.service.data());
  HttpClient client(again.port());
  int kept = 0;
  std::string cursor;
  do {
    const auto page =
        client.get("/api/v1/households/h-1/entries?limit=200" + (cursor.empty() ? "" : "&cursor=" + cursor)).json();
    for (const auto& entry : page["entries"]) kept += entry["kind"] == "reading" ? 1 : 0;
    cursor = page["next"].is_null() ? "" : page["next"].get<std::string>();
  } while (!cursor.empty());
  CHECK(kept >= answered);
  CHECK(kept <= answered + 4);
}

TEST_CASE("a service killed in the middle has kept everything it answered", "[http]") {
  const TemporaryFolder folder;
  const auto data = (folder.path() / "data").string();
  {
    Service service(nullptr, data);
    HttpClient client(service.port());
    REQUIRE(client.post("/api/v1/households", house).status == 201);
    REQUIRE(
        client.post("/api/v1/households/h-1/stock-counts", {{"at", from_now(-60)}, {"item", "cells"}, {"quantity", 8}})
            .status == 201);
    kill(service.process(), SIGKILL);
  }
  Service again(nullptr, data);
  CHECK(HttpClient(again.port()).get("/api/v1/households/h-1").json()["lots"][0]["quantity"] == 8);
}

TEST_CASE("an address that is not loopback is refused, with the reason", "[http]") {
  const TemporaryFolder folder;
  for (const char* host : {"0.0.0.0", "192.0.2.7", "::", "example.org"}) {
    const auto ended = run_cellarer(
        {"serve", "--data", folder.path(), "--port", "0", "--host", host, "--profiles", delivered_profiles});
    INFO(host);
    CHECK(ended.code == 1);
    CHECK(ended.err.find("listen on") != std::string::npos);
    CHECK(ended.err.find("127.0.0.1") != std::string::npos);
  }
}

TEST_CASE("a port that is taken is said, and the service ends", "[http]") {
  Service first;
  const TemporaryFolder folder;
  const auto ended = run_cellarer(
      {"serve", "--data", folder.path(), "--port", std::to_string(first.port()), "--profiles", delivered_profiles});
  CHECK(ended.code == 1);
  CHECK(ended.err.find("port " + std::to_string(first.port()) + " of 127.0.0.1 is taken") != std::string::npos);
}

TEST_CASE("two services do not share one data folder", "[http]") {
  Service first;
  const auto ended = run_cellarer({"serve", "--data", first.data(), "--port", "0", "--profiles", delivered_profiles});
  CHECK(ended.code == 1);
  CHECK(ended.err.find("another service runs on") != std::string::npos);
}

TEST_CASE("a setting that is misspelt is refused, not passed over", "[http]") {
  const TemporaryFolder folder;
  CHECK_THROWS(Service(json{{"limits", {{"body_byte", 100}}}}));
  CHECK_THROWS(Service(json{{"limits", {{"body_bytes", -1}}}}));
}

TEST_CASE("logs name requests, and hold nothing of what was recorded", "[http]") {
  Home at;
  at.client.send("POST", "/api/v1/households/h-1/readings",
                 json{{"at", from_now(-60)}, {"side", "left"}, {"percent", 80}, {"who", "secret label"}}.dump(),
                 {"Idempotency-Key: secret-key"});
  at.service.terminate();
  CHECK(at.service.log().find("POST /api/v1/households/h-1/readings status=201") != std::string::npos);
  CHECK(at.service.log().find("secret") == std::string::npos);
}
