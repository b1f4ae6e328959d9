// SPDX-License-Identifier: MIT
// Staff come in by passkey (an authenticator made for tests, which shares no code with the service), and by printed
// codes; a household's sealed code signs out its other phones and tells them.
#include "tests/support/authenticator.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using cellarer::tests::Authenticator;
using nlohmann::json;

namespace {

struct Office {
  Home home;
  std::string origin = home.service.said()["address"];

  HttpClient nobody() { return HttpClient(home.service.port(), ""); }

  /// Makes the passkey of an invited planner.
  Answer bind(HttpClient& client, Authenticator& key, const std::string& code) {
    const auto offered = client.post(api + "/invitations/accept", {{"code", code}});
    REQUIRE(offered.status == 200);
    REQUIRE(client.cookie().empty());
    return client.post(api + "/passkeys",
                       {{"code", code}, {"credential", key.make(offered.json()["passkey_options"])}});
  }

  Answer sign_in(HttpClient& client, Authenticator& key) {
    const auto asked = client.post(api + "/sign-in/options", json::object()).json();
    return client.post(api + "/sign-in",
                       {{"challenge_id", asked["challenge_id"]}, {"credential", key.answer(asked["options"])}});
  }

  std::string invite_planner() { return home.service.invite({"--role", "planner", "--label", "Desk"}); }
};

}  // namespace

TEST_CASE("staff make a passkey from their link, once, and sign in by it", "[http]") {
  Office office;
  for (const auto algorithm : {Authenticator::Algorithm::es256, Authenticator::Algorithm::ed25519}) {
    Authenticator key(office.origin, algorithm);
    key.credential_id = std::string(16, algorithm == Authenticator::Algorithm::es256 ? 'a' : 'b');
    const auto code = office.invite_planner();
    HttpClient desk(office.home.service.port(), ""), again(office.home.service.port(), "");
    const auto bound = office.bind(desk, key, code);
    REQUIRE(bound.status == 201);
    CHECK(bound.json()["role"] == "planner");
    CHECK(bound.json()["recovery_codes"].size() == 10);
    CHECK(desk.get(api + "/session").json()["account"] == bound.json()["account"]);
    CHECK(again.post(api + "/invitations/accept", {{"code", code}}).status == 410);
    const auto signed_in = office.sign_in(again, key);
    REQUIRE(signed_in.status == 200);
    CHECK(signed_in.json()["account"] == bound.json()["account"]);
    CHECK(again.get(api + "/households").status == 200);
  }
}

TEST_CASE("an answer to another question, of another site or with a foreign key signs nobody in", "[http]") {
  Office office;
  Authenticator key(office.origin);
  HttpClient desk(office.home.service.port(), ""), other(office.home.service.port(), "");
  REQUIRE(office.bind(desk, key, office.invite_planner()).status == 201);
  const auto asked = other.post(api + "/sign-in/options", json::object()).json();
  const auto credential = key.answer(asked["options"]);
  const json answer{{"challenge_id", asked["challenge_id"]}, {"credential", credential}};
  REQUIRE(other.post(api + "/sign-in", answer).status == 200);
  CHECK(other.post(api + "/sign-in", answer).problem() == "out-of-range");  // used
  CHECK(other.post(api + "/sign-in", {{"challenge_id", std::string(43, 'A')}, {"credential", credential}}).status ==
        422);
  key.origin = "https://elsewhere.example";
  CHECK(office.sign_in(other, key).problem() == "not-signed-in");
  key.origin = office.origin;
  Authenticator stranger(office.origin);
  stranger.credential_id = key.credential_id;
  stranger.user_handle = key.user_handle;
  stranger.make(json{{"challenge", "AAAA"}, {"rp", {{"id", "localhost"}}}, {"user", {{"id", key.user_handle}}}});
  CHECK(office.sign_in(other, stranger).problem() == "not-signed-in");
}

TEST_CASE("a further passkey is made signed in; the operator's link replaces a lost one", "[http]") {
  Office office;
  Authenticator first(office.origin), second(office.origin), third(office.origin);
  first.credential_id = std::string(16, '1');
  second.credential_id = std::string(16, '2');
  third.credential_id = std::string(16, '3');
  HttpClient desk(office.home.service.port(), ""), anew(office.home.service.port(), "");
  const auto bound = office.bind(desk, first, office.invite_planner());
  const auto options = desk.post(api + "/passkeys/options", json::object()).json()["passkey_options"];
  CHECK(options["excludeCredentials"].size() == 1);
  CHECK(desk.post(api + "/passkeys", {{"credential", second.make(options)}}).status == 201);
  CHECK(office.sign_in(anew, second).status == 200);
  const auto ended = run_cellarer(
      {"account", "again", bound.json()["account"].get<std::string>(), "--data", office.home.service.data(), "--json"});
  REQUIRE(ended.code == 0);
  const auto rebound = office.bind(*std::make_unique<HttpClient>(office.home.service.port(), ""), third,
                                   json::parse(ended.out)["code"].get<std::string>());
  REQUIRE(rebound.status == 201);
  CHECK(rebound.json()["account"] == bound.json()["account"]);
  CHECK(desk.get(api + "/session").json()["ended"]["why"] == "new-passkey");
  CHECK(office.sign_in(anew, first).status == 401);
  CHECK(office.sign_in(anew, second).status == 401);
  CHECK(office.sign_in(anew, third).status == 200);
}

TEST_CASE("a printed recovery code signs in once, however it is typed", "[http]") {
  Office office;
  Authenticator key(office.origin);
  HttpClient desk(office.home.service.port(), ""), lost(office.home.service.port(), "");
  const auto codes = office.bind(desk, key, office.invite_planner()).json()["recovery_codes"];
  auto typed = codes[3].get<std::string>();
  for (char& c : typed) c = c == '-' ? ' ' : static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  const auto opened = lost.post(api + "/sign-in/recovery", {{"code", typed}});
  REQUIRE(opened.status == 200);
  CHECK(opened.json()["role"] == "planner");
  CHECK(opened.json()["recovery_used_at"].is_string());
  CHECK(lost.post(api + "/sign-in/recovery", {{"code", codes[3]}}).problem() == "not-signed-in");
  CHECK(lost.post(api + "/sign-in/recovery", {{"code", codes[4]}}).status == 200);
  CHECK(lost.post(api + "/sign-in/recovery", {{"code", "S-00000-00000-00000-00000"}}).status == 401);
}

TEST_CASE("a household's sealed code signs out its other phones, which read why and when", "[http]") {
  Home home;
  const std::vector<std::string> kitchen{"--role", "household", "--household", "h-1", "--label", "Kitchen phone"};
  HttpClient phone(home.service.port(), home.service.let_in(kitchen)), finder(home.service.port(), "");
  const auto path = api + "/households/h-1/recovery-code";
  const auto old = phone.post(path, json::object()).json()["code"].get<std::string>();
  const auto made = phone.post(path, json::object());
  REQUIRE(made.status == 201);
  const auto code = made.json()["code"].get<std::string>();
  CHECK(code.starts_with("H-"));
  CHECK(finder.post(api + "/sign-in/recovery", {{"code", old}}).status == 401);
  const auto opened = finder.post(api + "/sign-in/recovery", {{"code", code}});
  REQUIRE(opened.status == 200);
  CHECK(opened.json()["household"] == "h-1");
  CHECK(opened.json()["new_code_needed"] == true);
  const auto told = phone.get(api + "/households/h-1/forecast");
  CHECK(told.status == 401);
  CHECK(told.json()["ended"]["why"] == "sealed-code");
  CHECK(told.json()["detail"].get<std::string>().find("sealed recovery code") != std::string::npos);
  CHECK(finder.get(api + "/households/h-1/phones").json()["phones"].size() == 1);
  CHECK(finder.post(api + "/sign-in/recovery", {{"code", code}}).status == 401);
  CHECK(finder.post(path, json::object()).status == 201);
  CHECK(finder.get(api + "/session").json()["recovery_used_at"].is_null());
  CHECK(home.client.get(api + "/households/h-1/forecast").status == 200);  // the agency is not signed out
}

TEST_CASE("wrong attempts from one address are told to wait; a known phone is not", "[http]") {
  Home home;
  HttpClient guessing(home.service.port(), "");
  long status = 0;
  for (int i = 0; i < 30 && status != 429; ++i) {
    status = guessing.post(api + "/invitations/accept", {{"code", "guess-" + std::to_string(i)}}).status;
  }
  const auto told = guessing.post(api + "/invitations/accept", {{"code", "guess"}});
  CHECK(told.problem() == "too-many-attempts");
  CHECK(std::stoi(told.headers.at("retry-after")) >= 1);
  CHECK(home.client.get(api + "/households/h-1/forecast").status == 200);
}
