// SPDX-License-Identifier: MIT
// Another agency's rounds, units, proposals and lots, named in addresses and in bodies, are answered word for word like
// names that nobody has, and nothing of the other agency changes (DEVELOPERS.md, section 10: nothing crosses).
#include <set>

#include "tests/support/catch.hpp"
#include "tests/support/rounds_desk.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {

/// Two agencies in one service. The other one, "north", has a home with a unit, a lot that is recalled, a confirmed
/// round and a proposed profile.
struct TwoAgencies {
  RoundsDesk here;
  HttpClient north, technician;
  std::string round, plan, proposal;

  static std::vector<std::string> way_in(const char* role, const char* agency) {
    return {"--role", role, "--agency", agency, "--label", role, "--without-passkey"};
  }

  TwoAgencies()
      : north(here.home.service.port(), northern_administrator()),
        technician(here.home.service.port(), here.home.service.let_in(way_in("technician", "agency"))) {
    made("/households", {{"household", "h-3"},
                         {"zone", "Europe/Oslo"},
                         {"changing_times", {"21:30"}},
                         {"area", "north"},
                         {"items", {{{"item", "tape"}, {"pack_size", 5}, {"lead_days", 1}, {"every_days", 2}}}}});
    made("/households/h-3/units", {{"serial", "N-77"}, {"stimulator", "percent-power"}, {"from", from_now(-3600)}});
    made("/households/h-3/stock-counts", {{"at", from_now(-60)}, {"item", "tape"}, {"quantity", 3}});
    made("/households/h-3/deliveries", {{"at", from_now(-60)}, {"item", "cells"}, {"lot", "N1"}, {"quantity", 24}});
    made("/lots/recalls", {{"lot", "N1"}});
    const json rule{{"name", "northern"},
                    {"area", "north"},
                    {"dates", {day(2), day(9), day(16), day(23)}},
                    {"stops", 10},
                    {"lead_days", 1}};
    const json calendar{
        {"follows", 0}, {"zone", "UTC"}, {"rules", {rule}}, {"items", {{{"item", "tape"}, {"pieces_per_pack", 5}}}}};
    REQUIRE(north.post(api + "/calendar", calendar).status == 200);
    const auto draft = north.get(api + "/plan").json();
    round = draft["rounds"][0]["round"];
    made("/plan/confirm", {{"plan", draft["plan"]}, {"rounds", {round}}});
    plan = north.get(api + "/plan").json()["plan"];
    proposal = std::to_string(made("/profile-proposals", {{"kind", "steps"},
                                                          {"stimulator", "percent-power"},
                                                          {"steps", {"First this."}},
                                                          {"source", "an invented card"},
                                                          {"date", "2026-05-01"}})["number"]
                                  .get<int>());
  }

  std::string northern_administrator() {
    REQUIRE(run_cellarer({"account", "agency", "north", "--data", here.home.service.data()}).code == 0);
    return here.home.service.let_in(way_in("administrator", "north"));
  }

  json made(const std::string& path, const json& body) {
    const auto answer = north.post(api + path, body);
    INFO(path << " " << answer.body);
    REQUIRE(answer.status == 201);
    return answer.json();
  }

  /// What the other agency reads of its own, and its newest link: nothing was written there.
  std::string northern() {
    std::string all;
    for (const auto& path : {"/rounds/" + in_path(round), std::string("/units/N-77"), "/profile-proposals/" + proposal,
                             std::string("/lots/one?lot=N1"), std::string("/audit?limit=1")}) {
      const auto answer = north.get(api + path);
      INFO(path << " " << answer.body);
      REQUIRE(answer.status == 200);
      auto document = answer.json();
      document.erase("as_of");  // when it was made, no more
      all += document.dump() + "\n";
    }
    return all;
  }
};

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  for (auto at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
    text.replace(at, from.size(), to);
  return text;
}

struct Ask {
  HttpClient& by;
  std::string method, path, body;  ///< with NAME where the identifier stands
  std::string theirs, nobodys;
};

}  // namespace

TEST_CASE("another agency's rounds, units, proposals and lots are answered like nobody's", "[http]") {
  TwoAgencies at;
  HttpClient &planner = at.here.planner, &technician = at.technician, &administrator = at.here.home.client;
  const auto before = at.northern();
  const std::string none = "nowhere " + day(3), step = R"({"state":"left","follows":1})";
  const std::string burst = R"({"side":"left","amplitude":4.0,"current_mA":30})";
  const Ask asks[] = {
      {planner, "GET", "/rounds/NAME", "", at.round, none},
      {administrator, "POST", "/rounds/NAME/state", step, at.round, none},
      {administrator, "POST", "/households/h-1/delivery-answers", R"({"round":"NAME","answer":"received"})", at.round,
       none},
      {technician, "GET", "/units/NAME", "", "N-77", "X-77"},
      {technician, "POST", "/profile-proposals",
       R"({"kind":"unit","serial":"NAME","at":")" + from_now(-3600) + R"(","bursts":[)" + burst + "]}", "N-77", "X-77"},
      {technician, "GET", "/profile-proposals/NAME", "", at.proposal, "999999"},
      {technician, "POST", "/profile-proposals/NAME/decision", R"({"approve":true})", at.proposal, "999999"},
      {planner, "GET", "/lots/one?lot=NAME", "", "N1", "X1"},
      {planner, "GET", "/lots/one.csv?lot=NAME", "", "N1", "X1"},
      {planner, "GET", "/lots/recalls/calls?lot=NAME", "", "N1", "X1"},
      {planner, "GET", "/lots/recalls/calls.csv?lot=NAME", "", "N1", "X1"},
      {planner, "POST", "/lots/recalls/undo", R"({"lot":"NAME"})", "N1", "X1"}};
  for (const Ask& ask : asks) {
    const auto answer = [&](const std::string& name) {
      const bool in_address = ask.path.find("NAME") != std::string::npos;
      return ask.by.send(ask.method, api + replaced(ask.path, "NAME", in_path(name)),
                         in_address ? ask.body : replaced(ask.body, "NAME", name),
                         {"Content-Type: application/json", "Idempotency-Key: " + new_key()});
    };
    const auto theirs = answer(ask.theirs), nobodys = answer(ask.nobodys);
    INFO(ask.method << " " << ask.path << ": " << theirs.body << " / " << nobodys.body);
    CHECK(theirs.status >= 400);
    CHECK(theirs.status == nobodys.status);
    const bool names_it = nobodys.body.find(ask.nobodys) != std::string::npos;
    CHECK((names_it ? replaced(theirs.body, ask.theirs, ask.nobodys) : theirs.body) == nobodys.body);
  }
  CHECK(planner.post(api + "/plan/confirm", {{"plan", at.plan}, {"rounds", {at.round}}}).status >= 400);
  CHECK(planner.post(api + "/plan/consequence", {{"plan", at.plan}, {"stop", "h-3"}, {"to", at.round}}).status >= 400);
  CHECK(at.northern() == before);
}

TEST_CASE("what an agency records under another's names stays its own", "[http]") {
  TwoAgencies at;
  HttpClient &planner = at.here.planner, &technician = at.technician;
  const auto before = at.northern();
  CHECK(technician.post(api + "/units/N-77/events", {{"at", from_now(-60)}, {"what", "workshop"}}).status == 201);
  const auto recalled = planner.post(api + "/lots/recalls", {{"lot", "N1"}, {"why", "ours"}});
  REQUIRE(recalled.status == 201);
  CHECK(recalled.json()["homes"] == 0);
  const auto corrected = planner.post(api + "/lots/corrections", {{"from", "N1"}, {"to", "X2"}});
  REQUIRE(corrected.status == 201);
  CHECK(corrected.json()["uses"] == 0);
  CHECK(planner.post(api + "/lots/recalls/undo", {{"lot", "X2"}}).status < 500);
  CHECK(at.northern() == before);
}

TEST_CASE("every kind of identifier in an address is tried with another agency's", "[http]") {
  const Home home;
  // The walk tries households, accounts, sessions and invitations; entries are counted within their household; sides,
  // models and tables are the same for all.
  const std::set<std::string> tried{"round",      "serial", "proposal", "household",  "account", "session",
                                    "invitation", "entry",  "side",     "stimulator", "table"};
  HttpClient reader(home.service.port());
  const auto document = reader.get(api + "/openapi.json").json();
  for (const auto& [path, ignored] : document["paths"].items()) {
    for (auto from = path.find('{'); from != std::string::npos; from = path.find('{', from + 1)) {
      const auto name = path.substr(from + 1, path.find('}', from) - from - 1);
      INFO(path);
      CHECK(tried.count(name) == 1);
    }
  }
}
