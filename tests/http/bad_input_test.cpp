// SPDX-License-Identifier: MIT
// What cannot be is refused with a named problem, its place, and what would be right; nothing is stored.
#include <set>

#include "tests/support/catch.hpp"
#include "tests/support/schema.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {

struct Bad {
  const char* path;
  json body;
  const char* code;
  const char* place;
};

json reading(const json& more) {
  json body{{"at", from_now(-60)}, {"side", "left"}};
  body.update(more);
  return body;
}

json settings(const json& more) {
  json body{
      {"from", from_now(-60)}, {"side", "left"}, {"rate_per_min", 12}, {"inspiratory_fraction", 0.3}, {"amplitude", 4}};
  body.update(more);
  for (auto it = body.begin(); it != body.end();) it = it->is_null() ? body.erase(it) : std::next(it);
  return body;
}

json stock(const json& more) {
  json body{{"at", from_now(-60)}, {"item", "cells"}, {"quantity", 4}};
  body.update(more);
  return body;
}

}  // namespace

TEST_CASE("each thing that cannot be is refused by name and place, and stores nothing", "[http]") {
  Home at;
  const auto before = at.client.get(at_home + "/entries").body;
  const std::vector<Bad> all{
      {"/readings", reading({{"percent", 101}}), "out-of-range", "/percent"},
      {"/readings", reading({{"percent", -1}}), "out-of-range", "/percent"},
      {"/readings", reading({{"percent", "62"}}), "wrong-type", "/percent"},
      {"/readings", reading({{"step", 6}, {"of", 5}}), "out-of-range", "/step"},
      {"/readings", reading({{"step", 2}}), "missing", "/of"},
      {"/readings", reading({{"step", 2.5}, {"of", 5}}), "wrong-type", "/step"},
      {"/readings", reading({{"set_V", 25}}), "out-of-range", "/set_V"},
      {"/readings", reading({{"cell_V", json::array()}}), "out-of-range", "/cell_V"},
      {"/readings", reading({{"warning", false}}), "out-of-range", "/warning"},
      {"/readings", reading({{"percent", 50}, {"warning", true}}), "out-of-range", "/warning"},
      {"/readings", reading(json::object()), "missing", "/percent"},
      {"/readings", reading({{"percent", 50}, {"side", "middle"}}), "out-of-range", "/side"},
      {"/readings", reading({{"percent", 50}, {"at", "yesterday"}}), "wrong-type", "/at"},
      {"/readings", reading({{"percent", 50}, {"at", "2026-01-01T10:00:00"}}), "wrong-type", "/at"},
      {"/readings", reading({{"percent", 50}, {"at", "1926-01-01T10:00:00Z"}}), "out-of-range", "/at"},
      {"/readings", reading({{"percent", 50}, {"who", std::string(81, 'x')}}), "too-long", "/who"},
      {"/readings", json::array(), "wrong-type", ""},
      {"/settings", settings({{"rate_per_min", 0}}), "out-of-range", "/rate_per_min"},
      {"/settings", settings({{"rate_per_min", 61}}), "out-of-range", "/rate_per_min"},
      {"/settings", settings({{"inspiratory_fraction", nullptr}, {"inspiratory_time_s", 6}}), "out-of-range",
       "/inspiratory_time_s"},
      {"/settings", settings({{"inspiratory_fraction", 1}}), "out-of-range", "/inspiratory_fraction"},
      {"/settings", settings({{"inspiratory_fraction", nullptr}}), "missing", "/inspiratory_fraction"},
      {"/settings", settings({{"amplitude", 0}}), "out-of-range", "/amplitude"},
      {"/settings", settings({{"paced", {{{"days", {"monday"}}, {"from", "21:00"}, {"to", "07:00"}}}}}), "out-of-range",
       "/paced/0/days/0"},
      {"/settings", settings({{"paced", {{{"days", {"mon"}}, {"from", "25:00"}, {"to", "07:00"}}}}}), "wrong-type",
       "/paced/0/from"},
      {"/stock-counts", stock({{"quantity", -3}}), "out-of-range", "/quantity"},
      {"/stock-counts", stock({{"quantity", 2.5}}), "wrong-type", "/quantity"},
      {"/stock-counts", stock({{"expires", "2033"}}), "wrong-type", "/expires"},
      {"/deliveries", stock({{"quantity", 0}}), "out-of-range", "/quantity"},
      {"/cell-changes", reading({{"reason", "boredom"}}), "out-of-range", "/reason"},
      {"/cell-changes", reading({{"cells", "A1"}}), "wrong-type", "/cells"},
      {"/units",
       {{"serial", "u-2"}, {"stimulator", "nothing"}, {"from", from_now(-60)}},
       "out-of-range",
       "/stimulator"},
      {"/paced", {{"side", "left"}, {"from", from_now(-60)}, {"hours_per_day", 25}}, "out-of-range", "/hours_per_day"},
      {"/switched-off", {{"side", "left"}, {"from", from_now(-60)}, {"to", from_now(-120)}}, "out-of-range", "/to"},
      {"/stays", {{"from", from_now(60)}, {"to", from_now(30)}}, "out-of-range", "/to"},
      {"/voids", {{"entry", "first"}}, "wrong-type", "/entry"},
      {"/answers", {{"entry", 4}, {"answer", "perhaps"}}, "out-of-range", "/answer"},
  };
  const auto document = at.client.get("/api/v1/openapi.json").json();
  // What one field says of another is beyond a schema: the reader alone refuses it.
  const std::set<std::string> beyond_schema{"/step", "/inspiratory_time_s", "/to", "/stimulator", "/at"};
  for (const Bad& bad : all) {
    if (beyond_schema.count(bad.place) == 0 && bad.path != std::string("/deliveries")) {
      const auto& operation = document["paths"]["/api/v1/households/{household}" + std::string(bad.path)]["post"];
      const auto schema = operation["requestBody"]["content"]["application/json"]["schema"];
      INFO("the schema of " << bad.path << " takes " << bad.body.dump());
      CHECK_FALSE(schema_faults(document, schema, bad.body).empty());
    }
    const auto answer = at.client.post(at_home + bad.path, bad.body);
    INFO(bad.path << " " << bad.body.dump() << " gave " << answer.body);
    CHECK(answer.status == 422);
    CHECK(answer.headers.at("content-type") == "application/problem+json");
    CHECK(answer.problem() == bad.code);
    const auto errors = answer.json()["errors"];
    REQUIRE(errors.size() == 1);
    CHECK(errors[0]["place"] == bad.place);
    CHECK(errors[0]["reason"].get<std::string>().size() > 5);
  }
  CHECK(at.client.get(at_home + "/entries").body == before);
}

TEST_CASE("an inspiratory time longer than the breath is told how long the breath is", "[http]") {
  Home at;
  const auto answer =
      at.client.post(at_home + "/settings", settings({{"inspiratory_fraction", nullptr}, {"inspiratory_time_s", 6}}));
  // 60 s / 12 breaths = 5 s
  CHECK(answer.json()["errors"][0]["reason"].get<std::string>().find("a breath takes 5 s") != std::string::npos);
}

TEST_CASE("a body of a type that a form of another site could send is refused", "[http]") {
  Home at;
  const auto body = json{{"at", from_now(-60)}, {"side", "left"}, {"percent", 80}}.dump();
  for (const char* type : {"text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x"}) {
    const auto answer = at.client.send("POST", at_home + "/readings", body,
                                       {"Idempotency-Key: " + new_key(), std::string("Content-Type: ") + type});
    INFO(type);
    CHECK(answer.status == 415);
    CHECK(answer.problem() == "unsupported-media-type");
  }
}

TEST_CASE("a body that is not JSON is refused with line and column", "[http]") {
  Home at;
  for (const std::string body : {"percent=50", "{\"percent\": 50,", "", "{\"a\":\"\xff\"}"}) {
    const auto answer = at.client.send("POST", at_home + "/readings", body, {"Idempotency-Key: " + new_key()});
    INFO(body);
    CHECK(answer.status == 400);
    CHECK(answer.problem() == "not-json");
  }
  const auto nested =
      at.client.send("POST", at_home + "/readings", std::string(2000, '['), {"Idempotency-Key: " + new_key()});
  CHECK(nested.status == 400);
  // A unit's body is looked into before the door, too: by the same reader, which stops at its depth.
  const std::string deep = R"({"stimulator":)" + std::string(30'000, '[') + std::string(30'000, ']') + "}";
  const auto unit = at.client.send("POST", at_home + "/units", deep, {"Idempotency-Key: " + new_key()});
  CHECK(unit.status == 400);
  CHECK(unit.problem() == "not-json");
}

TEST_CASE("an unknown household, entry or profile is named as such", "[http]") {
  Home at;
  CHECK(at.client.get("/api/v1/households/nobody").problem() == "unknown-household");
  CHECK(at.client.get("/api/v1/households/nobody/forecast").status == 404);
  CHECK(at.client.get("/api/v1/households/nobody/forecast").problem() == "unknown-household");
  CHECK(at.client.post("/api/v1/households/nobody/readings", reading({{"percent", 50}})).problem() ==
        "unknown-household");
  CHECK(at.client.post(at_home + "/voids", {{"entry", 999}}).problem() == "unknown-entry");
  CHECK(at.client.get("/api/v1/profiles/stimulators/none").problem() == "unknown-profile");
}

TEST_CASE("an address that is not UTF-8 is a bad request to each role, and the service lives", "[http]") {
  Home at;
  const std::string api = "/api/v1";
  const char* addresses[] = {
      "/households/%FF",   "/households/%FF/entries",     "/households/%FF/forecast", "/rounds/%FF",
      "/lots/one?lot=%FF", "/lots/recalls/calls?lot=%FF", "/plan/remedies?plan=%FF"};
  const std::vector<std::vector<std::string>> roles{
      {"--role", "household", "--household", "h-1", "--label", "Kitchen"},
      {"--role", "planner", "--label", "Desk", "--without-passkey"},
      {"--role", "technician", "--label", "Bench", "--without-passkey"},
      {"--role", "administrator", "--label", "Office", "--without-passkey"},
      {"--role", "operator", "--label", "Runs it", "--without-passkey"}};
  for (const auto& role : roles) {
    HttpClient client(at.service.port(), at.service.let_in(role));
    for (const char* address : addresses) {
      INFO(role[1] << " " << address);
      const auto answer = client.get(api + address);
      CHECK(answer.status == 400);
      CHECK(answer.problem() == "bad-request");
      CHECK(client.get(api + "/health").status == 200);
    }
  }
}

TEST_CASE("a date in the future is asked about; confirmed, it is kept", "[http]") {
  Home at;
  auto body = reading({{"percent", 50}});
  body["at"] = from_now(3600);
  const auto asked = at.client.post(at_home + "/readings", body);
  CHECK(asked.status == 409);
  CHECK(asked.problem() == "future-date");
  CHECK(asked.json()["errors"][0]["place"] == "/at");
  body["confirmed"] = {"future-date"};
  CHECK(at.client.post(at_home + "/readings", body).status == 201);
  body = reading({{"percent", 50}, {"at", from_now(300)}});  // clocks differ: five minutes ahead is now
  CHECK(at.client.post(at_home + "/readings", body).status == 201);
}

TEST_CASE("a household that cannot be is refused", "[http]") {
  Service service;
  HttpClient client(service.port());
  const json right{{"household", "h-2"}, {"zone", "Europe/Oslo"}, {"changing_times", {"21:30"}}};
  const std::vector<std::pair<json, std::string>> all{{{{"household", "a b"}}, "/household"},
                                                      {{{"household", "../x"}}, "/household"},
                                                      {{{"household", ""}}, "/household"},
                                                      {{{"zone", "Europe/Atlantis"}}, "/zone"},
                                                      {{{"zone", "../../etc/passwd"}}, "/zone"},
                                                      {{{"changing_times", json::array()}}, "/changing_times"},
                                                      {{{"changing_times", {"9:30"}}}, "/changing_times/0"}};
  for (const auto& [wrong, place] : all) {
    auto body = right;
    body.update(wrong);
    const auto answer = client.post("/api/v1/households", body);
    INFO(body.dump() << answer.body);
    CHECK(answer.status == 422);
    CHECK(answer.json()["errors"][0]["place"] == place);
  }
  CHECK(client.get("/api/v1/households").json()["households"].empty());
}
