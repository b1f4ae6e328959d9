// SPDX-License-Identifier: MIT
// Coming in, as phones and programs see it. Expected: issue of roles and sign-in as README tells it, RFC 6265bis for
// the cookie, Fetch Metadata and RFC 6454 for requests across sites.
#include <algorithm>
#include <set>
#include <thread>

#include "tests/support/catch.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {

std::set<std::string> labels(const json& phones) {
  std::set<std::string> all;
  for (const auto& phone : phones["phones"]) all.insert(phone["label"].get<std::string>());
  return all;
}

/// Open invitations to the household h-1.
std::size_t open_invitations(HttpClient& client) {
  const auto all = client.get(api + "/invitations").json()["invitations"];
  return static_cast<std::size_t>(
      std::count_if(all.begin(), all.end(), [](const json& one) { return one["household"] == "h-1"; }));
}

/// A phone of the household h-1, with a client of its own.
std::string phone(const Service& service, const std::string& label = "Kitchen phone") {
  return service.let_in({"--role", "household", "--household", "h-1", "--label", label});
}

}  // namespace

TEST_CASE("nobody is let in without having been invited; health, readiness and the interface are for all", "[http]") {
  Home home;
  HttpClient nobody(home.service.port(), "");
  for (const char* open : {"/health", "/ready", "/openapi.json"}) CHECK(nobody.get(api + open).status == 200);
  for (const char* shut : {"/session", "/households", "/households/h-1/forecast", "/profiles/cells"}) {
    const auto answer = nobody.get(api + shut);
    CHECK(answer.status == 401);
    CHECK(answer.problem() == "not-signed-in");
  }
  HttpClient wrong(home.service.port(), "__Host-cellarer=" + std::string(43, 'A'));
  CHECK(wrong.get(api + "/session").status == 401);
}

TEST_CASE("an invitation lets one phone in, once; its cookie has every guard", "[http]") {
  Home home;
  const auto invited =
      home.client.post(api + "/invitations", {{"role", "household"}, {"household", "h-1"}, {"label", "Kitchen phone"}});
  REQUIRE(invited.status == 201);
  const auto link = invited.json()["link"].get<std::string>(), code = invited.json()["code"].get<std::string>();
  CHECK(link == "http://localhost:" + std::to_string(home.service.port()) + "/in#" + code);
  const auto rows = invited.json()["qr"];
  CHECK(rows.size() == rows[0].get<std::string>().size());
  CHECK(open_invitations(home.client) == 1);
  HttpClient phone(home.service.port(), "");
  const auto accepted = phone.post(api + "/invitations/accept", {{"code", code}, {"label", "Hall phone"}});
  REQUIRE(accepted.status == 201);
  CHECK(accepted.json()["household"] == "h-1");
  CHECK(accepted.json()["label"] == "Hall phone");
  const auto cookie = accepted.headers.at("set-cookie");
  CHECK(cookie.find("__Host-cellarer=") == 0);
  for (const char* guard : {"; Secure", "; HttpOnly", "; SameSite=Strict", "; Path=/"}) {
    CHECK(cookie.find(guard) != std::string::npos);
  }
  CHECK(cookie.find("Domain") == std::string::npos);
  CHECK(phone.get(api + "/session").json() == accepted.json());
  CHECK(phone.get(api + "/households/h-1/forecast").status == 200);
  HttpClient second(home.service.port(), "");
  CHECK(second.post(api + "/invitations/accept", {{"code", code}}).problem() == "invitation-used-or-over");
  CHECK(second.post(api + "/invitations/accept", {{"code", "nothing"}}).status == 410);
  CHECK(open_invitations(home.client) == 0);
  CHECK(home.service.log().find(code) == std::string::npos);
}

TEST_CASE("an invitation that is taken back lets nobody in", "[http]") {
  Home home;
  const auto invited =
      home.client.post(api + "/invitations", {{"role", "household"}, {"household", "h-1"}, {"label", "A phone"}})
          .json();
  const auto path = api + "/invitations/" + invited["invitation"].get<std::string>();
  CHECK(home.client.send("DELETE", path).status == 204);
  CHECK(home.client.send("DELETE", path).status == 410);
  HttpClient phone(home.service.port(), "");
  CHECK(phone.post(api + "/invitations/accept", {{"code", invited["code"]}}).status == 410);
  CHECK(home.client.get(api + "/audit").json()["links"][0]["action"] == "withdrawn");
}

TEST_CASE("a phone that comes in anew is no longer what it was before", "[http]") {
  Home home;
  const auto cookie = phone(home.service);
  HttpClient kitchen(home.service.port(), cookie);
  const auto invited =
      home.client.post(api + "/invitations", {{"role", "household"}, {"household", "h-1"}, {"label", "Hall phone"}})
          .json();
  REQUIRE(kitchen.post(api + "/invitations/accept", {{"code", invited["code"]}}).status == 201);
  CHECK(HttpClient(home.service.port(), cookie).get(api + "/session").json()["ended"]["why"] == "replaced");
  CHECK(labels(kitchen.get(api + "/households/h-1/phones").json()) == std::set<std::string>{"Hall phone"});
}

TEST_CASE("any phone of the household ends another, which then reads why", "[http]") {
  Home home;
  HttpClient kitchen(home.service.port(), phone(home.service)), lost(home.service.port(), phone(home.service, "Lost"));
  const auto phones = kitchen.get(api + "/households/h-1/phones").json();
  CHECK(labels(phones) == std::set<std::string>{"Kitchen phone", "Lost"});
  for (const auto& one : phones["phones"]) {
    CHECK(one["this_phone"] == (one["label"] == "Kitchen phone"));
    if (one["label"] != "Lost") continue;
    const auto path = api + "/households/h-1/phones/" + one["account"].get<std::string>();
    CHECK(kitchen.send("DELETE", path).status == 204);
    CHECK(kitchen.send("DELETE", path).problem() == "unknown-account");
  }
  const auto told = lost.get(api + "/households/h-1/forecast");
  CHECK(told.status == 401);
  CHECK(told.json()["ended"]["why"] == "by-phone");
  CHECK(labels(kitchen.get(api + "/households/h-1/phones").json()) == std::set<std::string>{"Kitchen phone"});
}

TEST_CASE("sessions of staff are listed by their label, and each is ended alone", "[http]") {
  Home home;
  const auto account_of = [](HttpClient& client) {
    return client.get(api + "/session").json()["account"].get<std::string>();
  };
  HttpClient desk(home.service.port(),
                  home.service.let_in({"--role", "planner", "--label", "Desk", "--without-passkey"}));
  HttpClient bench(home.service.port(),
                   home.service.let_in({"--role", "technician", "--label", "Bench", "--without-passkey"}));
  const auto sessions = home.client.get(api + "/accounts/" + account_of(desk) + "/sessions").json()["sessions"];
  REQUIRE(sessions.size() == 1);
  CHECK(sessions[0]["label"] == "Desk");
  CHECK(sessions[0]["this_session"] == false);
  const auto path = api + "/sessions/" + sessions[0]["session"].get<std::string>();
  CHECK(bench.send("DELETE", path).problem() == "not-allowed");
  CHECK(home.client.send("DELETE", path).status == 204);
  const auto told = desk.get(api + "/board");
  CHECK(told.status == 401);
  CHECK(told.json()["ended"]["why"] == "by-agency");
  CHECK(bench.get(api + "/session").status == 200);
  const auto own = bench.get(api + "/accounts/" + account_of(bench) + "/sessions").json()["sessions"];
  REQUIRE(own.size() == 1);
  CHECK(own[0]["this_session"] == true);
  CHECK(bench.send("DELETE", api + "/sessions/" + own[0]["session"].get<std::string>()).status == 204);
  CHECK(bench.get(api + "/session").status == 401);
}

TEST_CASE("signing out ends the session and takes the cookie away", "[http]") {
  Home home;
  const auto cookie = phone(home.service);
  HttpClient kitchen(home.service.port(), cookie);
  CHECK(kitchen.send("DELETE", api + "/session").status == 204);
  CHECK(kitchen.cookie().empty());
  CHECK(HttpClient(home.service.port(), cookie).get(api + "/session").json()["ended"]["why"] == "signed-out");
}

TEST_CASE("a planner is shown, and takes back, invitations of phones alone (section 10)", "[http]") {
  Home home;
  HttpClient planner(home.service.port(),
                     home.service.let_in({"--role", "planner", "--label", "Desk", "--without-passkey"}));
  const auto admin =
      home.client.post(api + "/invitations", {{"role", "administrator"}, {"label", "New office"}}).json();
  const auto phone =
      home.client.post(api + "/invitations", {{"role", "household"}, {"household", "h-1"}, {"label", "A phone"}})
          .json();
  const auto at = [](const json& invited) { return api + "/invitations/" + invited["invitation"].get<std::string>(); };
  const auto listed = planner.get(api + "/invitations").json()["invitations"];
  REQUIRE(listed.size() == 1);
  CHECK(listed[0]["role"] == "household");
  CHECK(planner.send("DELETE", at(admin)).status == 410);
  HttpClient office(home.service.port(), "");
  CHECK(office.post(api + "/invitations/accept", {{"code", admin["code"]}}).status != 410);  // the link still works
  CHECK(planner.send("DELETE", at(phone)).status == 204);
  CHECK(planner.get(api + "/invitations").json()["invitations"].empty());
  CHECK(home.client.send("DELETE", at(admin)).status == 204);
}

TEST_CASE("a page of another site writes nothing through a phone's cookie", "[http]") {
  Home home;
  const auto body = json{{"at", from_now(-60)}, {"side", "left"}, {"percent", 62}}.dump();
  const auto status = [&](const std::vector<std::string>& more, const std::string& type = "application/json") {
    std::vector<std::string> headers{"Content-Type: " + type, "Idempotency-Key: " + new_key()};
    headers.insert(headers.end(), more.begin(), more.end());
    return home.client.send("POST", api + "/households/h-1/readings", body, headers).status;
  };
  const auto own = "127.0.0.1:" + std::to_string(home.service.port());
  CHECK(status({"Sec-Fetch-Site: cross-site"}) == 403);
  CHECK(status({"Sec-Fetch-Site: same-site"}) == 403);
  CHECK(status({"Origin: https://elsewhere.example"}) == 403);
  CHECK(status({"Origin: null"}) == 403);
  CHECK(status({"Origin: http://127.0.0.1:1"}) == 403);
  CHECK(status({}, "text/plain") == 415);
  CHECK(status({}, "application/x-www-form-urlencoded") == 415);
  CHECK(home.client.send("DELETE", api + "/session", "", {"Sec-Fetch-Site: cross-site"}).problem() == "cross-site");
  CHECK(status({"Sec-Fetch-Site: same-origin"}) == 201);
  CHECK(status({"Origin: http://" + own}) == 201);
  CHECK(status({}) == 201);
}

TEST_CASE("`cellarer account end` takes effect in a running service within seconds", "[http]") {
  Home home;
  HttpClient planner(home.service.port(),
                     home.service.let_in({"--role", "planner", "--label", "Desk", "--without-passkey"}));
  const auto session = planner.get(api + "/session");
  REQUIRE(session.status == 200);
  const auto listed = run_cellarer({"account", "list", "--data", home.service.data(), "--json"});
  CHECK(json::parse(listed.out)["accounts"].size() == 2);
  const auto account = session.json()["account"].get<std::string>();
  CHECK(run_cellarer({"account", "end", account, "--data", home.service.data()}).code == 0);
  CHECK(run_cellarer({"account", "end", account, "--data", home.service.data()}).code == 1);
  long status = 200;
  for (int tries = 0; tries < 400 && status == 200; ++tries) {
    std::this_thread::sleep_for(std::chrono::milliseconds(50));
    status = planner.get(api + "/session").status;
  }
  CHECK(status == 401);
}

TEST_CASE("the first start says one link for the first administrator, and not in the log", "[http]") {
  Service service;
  const auto link = service.said()["first_administrator"].get<std::string>();
  CHECK(link.find("http://localhost:") == 0);
  const auto code = link.substr(link.find('#') + 1);
  CHECK(code.size() == 27);
  CHECK(service.log().find(code) == std::string::npos);
  REQUIRE(service.terminate() == 0);
  Service again(nullptr, service.data());
  CHECK_FALSE(again.said().contains("first_administrator"));
}

TEST_CASE("agencies see nothing of each other; the operator sees how large they are and no household", "[http]") {
  Home home;
  HttpClient runs(home.service.port(),
                  home.service.let_in({"--role", "operator", "--label", "Operator", "--without-passkey"}));
  CHECK(runs.post(api + "/agencies", {{"agency", "north"}}).status == 201);
  CHECK(runs.post(api + "/agencies", {{"agency", "north"}}).problem() == "agency-exists");
  CHECK(runs.post(api + "/agencies", {{"agency", "North!"}}).problem() == "out-of-range");
  const auto sizes = runs.get(api + "/agencies").json()["agencies"];
  CHECK(sizes[0] == json{{"agency", "agency"}, {"households", 1}, {"accounts", 1}});
  CHECK(sizes[1] == json{{"agency", "north"}, {"households", 0}, {"accounts", 0}});
  CHECK(runs.get(api + "/households/h-1").problem() == "not-allowed");
  CHECK(home.client.get(api + "/agencies").problem() == "not-allowed");
  HttpClient north(home.service.port(), home.service.let_in({"--role", "administrator", "--agency", "north", "--label",
                                                             "North", "--without-passkey"}));
  CHECK(north.get(api + "/households").json()["households"].empty());
  CHECK(north.get(api + "/households/h-1").problem() == "unknown-household");
  const json same{{"household", "h-1"}, {"zone", "Europe/Oslo"}, {"changing_times", {"21:30"}}, {"area", "north"}};
  CHECK(north.post(api + "/households", same).status == 201);
  CHECK(north.get(api + "/households").json()["households"].size() == 1);
  CHECK(home.client.get(api + "/households").json()["households"][0]["area"].is_null());
}
