// SPDX-License-Identifier: MIT
// "Something is wrong now": what the agency enters reaches its households; words that nobody answers for do not.
#include "tests/support/catch.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {
const std::string help_path = "/api/v1/agency/help";

json help_at_home(Home& at) { return at.client.get("/api/v1/households/h-1").json()["help"]; }
}  // namespace

TEST_CASE("the number holds at once, the agency's words once they are approved", "[http]") {
  Home at;
  CHECK(help_at_home(at).is_null());
  CHECK(at.client.get(help_path).json()["help"].is_null());
  json entered{
      {"number", "+47 22 00 00 00"}, {"label", "On-call nurse"}, {"steps", {{{"words", "Look at the wearer."}}}}};
  const auto first = at.client.post(help_path, entered);
  REQUIRE(first.status == 201);
  CHECK(help_at_home(at)["number"] == "+47 22 00 00 00");
  CHECK_FALSE(help_at_home(at).contains("steps"));
  CHECK(help_at_home(at)["approved_on"].is_null());
  CHECK(at.client.get(help_path).json()["help"]["steps"].size() == 1);

  entered["approved_by"] = "Medical director";
  entered["approved_on"] = "2026-11-20";
  entered["follows"] = first.json()["entry"];
  REQUIRE(at.client.post(help_path, entered).status == 201);
  CHECK(help_at_home(at)["steps"][0]["words"] == "Look at the wearer.");
  CHECK(help_at_home(at)["approved_by"] == "Medical director");
  // Whoever had seen the older ones would write over these.
  CHECK(at.client.post(help_path, entered).problem() == "outdated");
  // Withdrawn: the built-in words stand again.
  REQUIRE(at.client.post(help_path, {{"number", "113"}}).status == 201);
  CHECK_FALSE((help_at_home(at).contains("steps") && !help_at_home(at)["steps"].empty()));
}

TEST_CASE("another agency's number is another agency's, and a phone enters none", "[http]") {
  Home at;
  REQUIRE(at.client.post(help_path, {{"number", "22 00 00 00"}}).status == 201);
  REQUIRE(run_cellarer({"account", "agency", "north", "--data", at.service.data()}).code == 0);
  HttpClient north(at.service.port(), at.service.let_in({"--role", "administrator", "--agency", "north", "--label",
                                                         "North", "--without-passkey"}));
  CHECK(north.get(help_path).json()["help"].is_null());
  HttpClient phone(at.service.port(),
                   at.service.let_in({"--role", "household", "--household", "h-1", "--label", "Phone"}));
  CHECK(phone.get("/api/v1/households/h-1").json()["help"]["number"] == "22 00 00 00");
  CHECK(phone.post(help_path, {{"number", "1"}}).problem() == "not-allowed");
}

TEST_CASE("what is no number, no day, or approves nothing is refused", "[http]") {
  Home at;
  const json steps = {{{"words", "Look at the wearer."}}};
  for (const json& wrong : std::vector<json>{{{"number", "call us"}},
                                             {{"number", "+"}},
                                             {{"approved_by", "Medical director"}, {"approved_on", "2026-11-20"}},
                                             {{"steps", steps}, {"approved_by", "Medical director"}},
                                             {{"steps", steps}, {"approved_by", "x"}, {"approved_on", "2026-02-30"}},
                                             {{"steps", {{{"more", "x"}}}}},
                                             {{"label", std::string(81, 'x')}}}) {
    INFO(wrong.dump());
    CHECK(at.client.post(help_path, wrong).status == 422);
  }
}
