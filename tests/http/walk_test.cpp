// SPDX-License-Identifier: MIT
// The walk: every operation of the OpenAPI document, by every role and by nobody, with one's own household, another of
// the same agency, and one of another agency. What each pair is to hear stands in the table below, written from what
// each role is for (DEVELOPERS.md, section 10) and not from the service's own table. An operation that is not in it
// fails the test.
#include <iostream>
#include <map>

#include "tests/support/catch.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {

/// Who may: h a phone of the household, g a guest, p planner, t technician, a administrator, o operator, - nobody needs
/// to be signed in.
const std::map<std::string, std::string> may{
    // For all.
    {"health", "-hgptao"},
    {"ready", "-hgptao"},
    {"openapi", "-hgptao"},
    {"acceptInvitation", "-hgptao"},
    {"signInOptions", "-hgptao"},
    {"signIn", "-hgptao"},
    {"recover", "-hgptao"},
    {"remindersFeed", "-hgptao"},  // by its key alone
    // For whoever is signed in.
    {"session", "hgptao"},
    {"signOut", "hgptao"},
    {"accountSessions", "hgptao"},
    {"cellProfiles", "hgptao"},
    {"stimulators", "hgptao"},
    {"stimulator", "hgptao"},
    {"passkeyOptions", "ptao"},
    {"keepPasskey", "ptao"},  // with the code of an invitation: whoever has that
    // A household: read by its phones and by staff who work for it.
    {"household", "hgpta"},
    {"forecast", "hgpta"},
    {"chart", "hgpta"},
    {"entries", "hgpta"},
    {"events", "hgpta"},
    // Reminders: read by whoever reads the household, set by the home and for it; pushed to phones.
    {"reminders", "hgpta"},
    {"recordReminders", "ha"},
    {"makeCalendar", "ha"},
    {"endCalendar", "ha"},
    {"subscribe", "h"},
    {"unsubscribe", "h"},
    {"tryPush", "h"},
    {"confirmPush", "h"},
    {"whatIf", "hgpta"},
    {"export", "ha"},
    // Recorded by the home, by a guest who was let in, by staff as far as their work goes.
    {"recordReading", "hgta"},
    {"recordCellChange", "hga"},
    {"recordPaced", "hga"},
    {"recordSwitchedOff", "hga"},
    {"recordDiscard", "hga"},
    {"recordUse", "hga"},
    {"recordAnswer", "hga"},
    {"recordStockCount", "hgpa"},
    {"recordDelivery", "hgpa"},
    {"recordUnit", "hta"},
    {"recordSettings", "hta"},
    {"recordStay", "ha"},
    {"recordPacedMore", "ha"},
    {"recordVisit", "ha"},
    {"recordHospital", "ha"},
    {"recordBackHome", "ha"},
    // What is taken back or ended is looked at by its kind.
    {"recordVoid", "hgpta"},
    {"recordEnd", "hgpta"},
    // Phones of a household.
    {"phones", "hpa"},
    {"endPhone", "hpa"},
    {"makeSealedCode", "ha"},
    {"invite", "hpao"},
    {"invitations", "hpao"},
    {"withdrawInvitation", "hpao"},
    // The agency's.
    {"households", "pta"},
    {"createHousehold", "a"},
    {"erase", "a"},
    {"eraseHousehold", "a"},
    {"accounts", "a"},
    {"endAccount", "a"},
    {"endSession", "a"},  // of somebody else; one's own is not walked here
    {"help", "a"},
    {"enterHelp", "a"},
    {"audit", "a"},
    {"stockLedger", "pa"},
    // The planner's desk. What the home tells, and whether a delivery came, is recorded by the home.
    {"board", "pa"},
    {"deskHousehold", "pa"},
    {"ask", "pa"},
    {"recordStop", "pa"},
    {"closeHousehold", "pa"},
    {"reopenHousehold", "pa"},
    {"messages", "hgpta"},
    {"sendMessage", "hga"},
    {"messageSeen", "pa"},
    {"answerDelivery", "hgpa"},
    {"settleDelivery", "pa"},
    {"calendar", "pa"},
    {"replaceCalendar", "pa"},
    {"agencyStock", "pa"},
    {"recordAgencyStock", "pa"},
    {"plan", "pa"},
    {"remedies", "pa"},
    {"consequence", "pa"},
    {"decide", "pa"},
    {"confirmRounds", "pa"},
    {"round", "pa"},
    {"recordRoundState", "pa"},
    // The technician's bench.
    {"sideHistory", "ta"},
    {"sideHistoryTable", "ta"},
    {"recordCheck", "ta"},
    {"recordPart", "hta"},
    {"forecastThen", "ta"},
    {"units", "ta"},
    {"unit", "ta"},
    {"recordUnitEvent", "ta"},
    {"lotsInUse", "ta"},
    {"findings", "ta"},
    {"noteFinding", "ta"},
    {"wear", "ta"},
    {"readProfile", "ta"},
    {"proposeProfile", "ta"},
    {"proposals", "ta"},
    {"proposal", "ta"},
    {"decideProposal", "ta"},
    {"profileVersions", "ta"},
    {"roundsFeed", "pa"},
    {"makeRoundsFeed", "pa"},
    {"endRoundsFeed", "pa"},
    {"roundsCalendar", "-hgptao"},  // with the key of its address
    // Tables in and out: the planner's and the administrator's.
    {"checkImport", "pa"},
    {"import", "pa"},
    {"exportTable", "pa"},
    {"waste", "pa"},
    {"riskCurve", "pa"},
    // Lots: whoever works for the agency may find, call back and correct one.
    {"lots", "pta"},
    {"lot", "pta"},
    {"lotLines", "pta"},
    {"recallLot", "pta"},
    {"undoRecall", "pta"},
    {"recallCalls", "pta"},
    {"recallCallLines", "pta"},
    {"recordRecallCall", "pta"},
    {"correctLot", "pta"},
    {"lotCorrections", "pta"},
    // The service's.
    {"agencies", "o"},
    {"createAgency", "o"},
};

const std::string who_letters = "-hgptao";
const std::map<char, std::string> who_names{{'-', "nobody"},  {'h', "household"},  {'g', "guest"},
                                            {'p', "planner"}, {'t', "technician"}, {'a', "administrator"},
                                            {'o', "operator"}};

const std::vector<std::pair<std::string, std::string>> places{
    {"own", "h-1"}, {"neighbour", "h-2"}, {"other agency", "h-3"}};

/// What a pair is to hear: "in" past the door (whatever the handler then says of an empty body), or why not.
std::string expected(const std::string& operation, char who, const std::string& place) {
  const auto& allowed = may.at(operation);
  if (allowed.find(who) == std::string::npos) return who == '-' ? "not-signed-in" : "not-allowed";
  const bool phone = who == 'h' || who == 'g';
  const bool elsewhere = place == "other agency" || (place == "neighbour" && phone);
  return elsewhere ? "unknown-household" : "in";
}

std::string heard(const Answer& answer) {
  for (const char* refusal : {"not-signed-in", "not-allowed", "unknown-household", "cross-site", "not-found"}) {
    if (answer.status >= 400 && !answer.body.empty() && answer.problem() == refusal) return refusal;
  }
  if (answer.body.empty() && answer.status >= 400) {  // of a HEAD the status alone
    return answer.status == 401 ? "not-signed-in" : answer.status == 403 ? "not-allowed" : "unknown-household";
  }
  return answer.status < 500 ? "in" : "error " + std::to_string(answer.status);
}

struct Town {
  Home home;  ///< h-1 of the agency "agency"
  std::map<char, std::string> cookies;

  Town() {
    const auto make = [](HttpClient& client, const char* reference) {
      const json body{{"household", reference}, {"zone", "Europe/Oslo"}, {"changing_times", {"21:30"}}};
      REQUIRE(client.post("/api/v1/households", body).status == 201);
    };
    make(home.client, "h-2");
    REQUIRE(run_cellarer({"account", "agency", "north", "--data", home.service.data()}).code == 0);
    HttpClient north(home.service.port(), staff("administrator", "north"));
    make(north, "h-3");
    for (const char who : who_letters) let_in(who);
  }

  std::string staff(const std::string& role, const std::string& agency = "agency") {
    return home.service.let_in({"--role", role, "--agency", agency, "--label", role, "--without-passkey"});
  }

  void let_in(char who) {
    if (who == '-') {
      cookies[who] = "";
    } else if (who == 'h') {
      cookies[who] = home.service.let_in({"--role", "household", "--household", "h-1", "--label", "Phone"});
    } else if (who == 'g') {
      HttpClient phone(home.service.port(), cookies['h']);
      const auto invited =
          phone.post("/api/v1/invitations", {{"role", "guest"}, {"label", "Guest"}, {"until", from_now(86400)}});
      HttpClient guest(home.service.port(), "");
      REQUIRE(guest.post("/api/v1/invitations/accept", {{"code", invited.json()["code"]}}).status == 201);
      cookies[who] = guest.cookie();
    } else {
      cookies[who] = staff(who_names.at(who));
    }
  }

  Answer ask(char who, const std::string& method, const std::string& path) {
    HttpClient client(home.service.port(), cookies[who]);
    const bool writes = method == "POST";
    auto answer = client.send(method, path + "?side=left", writes ? "{}" : "",
                              {"Content-Type: application/json", "Idempotency-Key: " + new_key()});
    if (method == "DELETE" && path.ends_with("/session") && who != '-') let_in(who);
    return answer;
  }
};

std::string filled(std::string path, const std::string& household, const std::string& account) {
  const std::map<std::string, std::string> parts{
      {"{household}", household}, {"{stimulator}", "percent-power"}, {"{side}", "left"},
      {"{account}", account},     {"{session}", "somebody-else"},    {"{entry}", "1"},
      {"{round}", "none"},        {"{invitation}", "none"},          {"{table}", "households.csv"}};
  for (const auto& [part, value] : parts) {
    const auto at = path.find(part);
    if (at != std::string::npos) path.replace(at, part.size(), value);
  }
  return path;
}

}  // namespace

TEST_CASE("the walk: every route by every role, at home, next door and in another agency", "[http]") {
  Town town;
  const auto document = town.home.client.get("/api/v1/openapi.json").json();
  std::map<std::string, int> outcomes;
  std::size_t routes = 0, asked = 0;
  for (const auto& [path, operations] : document["paths"].items()) {
    for (const auto& [method, operation] : operations.items()) {
      const auto name = operation["operationId"].get<std::string>();
      REQUIRE((name + (may.count(name) == 1 ? "" : " is not in the table of this test")) == name);
      ++routes;
      std::string verb = method, line = name;
      for (char& c : verb) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
      if (name == "events") verb = "HEAD";  // the answer itself has no end
      line.resize(20, ' ');
      for (const char who : who_letters) {
        line += std::string(" ") + who + ":";
        for (const auto& [place, household] : places) {
          if (place != "own" && path.find("{household}") == std::string::npos) continue;
          std::string account = "nobody";
          if (name == "accountSessions" && who != '-') {
            account = HttpClient(town.home.service.port(), town.cookies[who]).get("/api/v1/session").json()["account"];
          }
          const auto outcome = heard(town.ask(who, verb, filled(path, household, account)));
          INFO(verb << " " << path << " by " << who_names.at(who) << ", " << place);
          CHECK(outcome == expected(name, who, place));
          line += outcome == "in" ? "+" : outcome == "not-signed-in" ? "s" : outcome == "not-allowed" ? "n" : "u";
          ++outcomes[outcome];
          ++asked;
        }
      }
      std::cout << line << "\n";
    }
  }
  std::cout << routes << " routes x " << who_letters.size() << " roles, with one's own, a neighbour's and another "
            << "agency's household: " << asked << " pairs\n+ in " << outcomes["in"] << ", s not signed in "
            << outcomes["not-signed-in"] << ", n not allowed " << outcomes["not-allowed"] << ", u unknown household "
            << outcomes["unknown-household"] << std::endl;
  CHECK(routes > 40);
}

TEST_CASE("a neighbour's phones, accounts, sessions and invitations are answered as if they were not there", "[http]") {
  Town town;
  const int port = town.home.service.port();
  const std::string api = "/api/v1";
  HttpClient administrator(port, town.cookies['a']), phone(port, town.cookies['h']), planner(port, town.cookies['p']);
  HttpClient north(port, town.staff("administrator", "north"));
  HttpClient next_door(port,
                       town.home.service.let_in({"--role", "household", "--household", "h-2", "--label", "Next door"}));
  const auto account_of = [&](HttpClient& client) {
    return client.get(api + "/session").json()["account"].get<std::string>();
  };
  const auto theirs = account_of(next_door), northern = account_of(north);
  const auto northern_session = north.get(api + "/accounts/" + northern + "/sessions").json()["sessions"][0]["session"];
  const json wish{{"role", "household"}, {"label", "x"}};
  const auto invited = next_door.post(api + "/invitations", wish).json()["invitation"].get<std::string>();

  CHECK(phone.send("DELETE", api + "/households/h-1/phones/" + theirs).problem() == "unknown-account");
  CHECK(phone.send("DELETE", api + "/households/h-2/phones/" + theirs).problem() == "unknown-household");
  CHECK(phone.send("DELETE", api + "/invitations/" + invited).problem() == "invitation-used-or-over");
  CHECK(phone.get(api + "/invitations").json()["invitations"].empty());
  CHECK(phone.get(api + "/accounts/" + theirs + "/sessions").problem() == "not-allowed");
  CHECK(planner.get(api + "/accounts/" + account_of(administrator) + "/sessions").problem() == "not-allowed");
  CHECK(administrator.send("DELETE", api + "/accounts/" + northern).problem() == "unknown-account");
  CHECK(administrator.get(api + "/accounts/" + northern + "/sessions").problem() == "unknown-account");
  CHECK(administrator.send("DELETE", api + "/sessions/" + northern_session.get<std::string>()).problem() ==
        "unknown-account");
  CHECK(north.send("DELETE", api + "/accounts/" + theirs).problem() == "unknown-account");
  json elsewhere = wish;
  elsewhere["household"] = "h-3";
  CHECK(administrator.post(api + "/invitations", elsewhere).problem() == "unknown-household");
  for (HttpClient* still : {&next_door, &north}) CHECK(still->get(api + "/session").status == 200);
  // Word for word, but for the name, what a household hears that nobody has.
  auto there = phone.get(api + "/households/h-2").body, nowhere = phone.get(api + "/households/h-9").body;
  there.replace(there.find("h-2"), 3, "h-9");
  CHECK(there == nowhere);
}
