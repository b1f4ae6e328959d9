// SPDX-License-Identifier: MIT
// Profiles by HTTP: read, proposed, approved by a second person, in force.
#include <chrono>
#include <fstream>
#include <thread>

#include "tests/support/catch.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {

/// Rows of data/cells/lr6-duracell-industrial.json, as somebody pastes them.
const std::string published =
    "current_mA\tcutoff_V\thours\n"
    "100\t1.2\t11.491\n100\t1.1\t17.798\n100\t1.0\t20.168\n100\t0.9\t20.904\n"
    "500\t1.0\t1.527\n500\t0.9\t1.891\n500\t0.8\t2.055\n";

json a_cell(const std::string& table) {
  return {{"kind", "cell"},
          {"id", "lr6-pasted"},
          {"designation", "LR6"},
          {"nominal_V", 1.5},
          {"source", {{"title", "a table, pasted"}, {"basis", "measured"}}},
          {"table", table}};
}

struct TwoBenches {
  Home home;
  HttpClient first{home.service.port(), staff("First bench")}, second{home.service.port(), staff("Second bench")};

  std::string staff(const char* label) {
    return home.service.let_in({"--role", "technician", "--label", label, "--without-passkey"});
  }
  static std::string at(const json& proposal) {
    return api + "/profile-proposals/" + std::to_string(proposal["number"].get<int>());
  }
};

bool has_cell(HttpClient& client, const std::string& id) {
  const auto document = client.get(api + "/profiles/cells").json();
  for (const auto& profile : document["profiles"]) {
    if (profile["id"] == id) return true;
  }
  return false;
}

/// A unit that draws half as much as its model: its cells would last longer.
json draws_half() {
  const json bursts{{{"side", "left"}, {"amplitude", 4.0}, {"current_mA", 30}},
                    {{"side", "right"}, {"amplitude", 4.0}, {"current_mA", 30}}};
  return {{"kind", "unit"}, {"serial", "u-1"}, {"at", from_now(-3600)}, {"bursts", bursts}};
}

}  // namespace

TEST_CASE("a pasted table becomes a cell once a second person approves it", "[http]") {
  TwoBenches benches;
  auto& [home, first, second] = benches;
  const auto tried = first.send("POST", api + "/profiles/read", a_cell(published).dump());
  REQUIRE(tried.status == 200);
  CHECK(tried.json()["usable"] == true);
  CHECK(tried.json()["residuals"].size() == 7);
  CHECK(tried.json()["residuals"][0]["line"] == 2);
  CHECK(first.get(api + "/profile-proposals").json()["proposals"].empty());

  auto wrong = published;
  wrong.replace(wrong.find("500\t1.0"), 7, "0.5\t1000");
  const auto problems = first.send("POST", api + "/profiles/read", a_cell(wrong).dump()).json()["problems"];
  REQUIRE(problems.size() == 2);
  CHECK(problems[0]["line"] == 6);
  CHECK(problems[0]["column"] == 1);
  CHECK_THAT(problems[0]["reason"].get<std::string>(), holds("If it is in A, write 500."));
  const auto refused = first.post(api + "/profile-proposals", a_cell(wrong));
  CHECK(refused.status == 422);
  CHECK(refused.json()["errors"][0]["place"] == "/table:6:1");

  const auto proposed = first.post(api + "/profile-proposals", a_cell(published));
  REQUIRE(proposed.status == 201);
  CHECK(proposed.json()["effect"]["of"] == 0);
  CHECK_FALSE(has_cell(first, "lr6-pasted"));
  const auto decision = TwoBenches::at(proposed.json()) + "/decision";
  CHECK(first.post(decision, {{"approve", true}}).problem() == "own-proposal");
  CHECK(second.get(TwoBenches::at(proposed.json())).json()["may_decide"] == true);
  const auto approved = second.post(decision, {{"approve", true}});
  REQUIRE(approved.status == 200);
  CHECK(approved.json()["version"] == 1);
  CHECK(second.post(decision, {{"approve", false}}).problem() == "outdated");
  CHECK(has_cell(first, "lr6-pasted"));
  CHECK(first.get(api + "/profile-versions").json()["versions"][0]["in_force"] == true);
}

TEST_CASE("a profile never makes a running forecast later, and says so before it is approved", "[http]") {
  TwoBenches benches;
  auto& [home, first, second] = benches;
  const auto before = home.forecast()["sides"]["left"]["change_by"];
  const auto now = from_now(0);
  const json half = draws_half();
  const auto proposed = first.post(api + "/profile-proposals", half);
  REQUIRE(proposed.status == 201);
  const auto effect = proposed.json()["effect"];
  REQUIRE(effect["moves"].size() == 2);
  CHECK(effect["moves"][0]["later"] == true);
  CHECK_THAT(effect["text"].get<std::string>(), holds("would make 2 running forecasts later"));
  REQUIRE(second.post(TwoBenches::at(proposed.json()) + "/decision", {{"approve", true}}).status == 200);
  CHECK(home.forecast()["sides"]["left"]["change_by"] == before);
  CHECK(first.get(api + "/units/u-1").json()["bench_values"].size() == 2);

  const auto then = first.get(api + "/households/h-1/forecast-then?at=" + now);
  REQUIRE(then.status == 200);
  CHECK(then.json()["sides"]["left"]["change_by"] == before);
  CHECK(first.get(api + "/households/h-1/forecast-then?at=" + from_now(86400)).status == 422);
}

TEST_CASE("nothing is approved before it is known whose dates it would move", "[http]") {
  TwoBenches benches;
  auto& [home, first, second] = benches;
  // One more than an agency has whose effects are worked out by whoever asks (service::small_agency).
  for (int number = 2; number <= 41; ++number) {
    const json one{
        {"household", "h-" + std::to_string(number)}, {"zone", "Europe/Oslo"}, {"changing_times", {"21:30"}}};
    REQUIRE(home.client.post(api + "/households", one).status == 201);
  }
  auto half = draws_half();
  half["base"] = "percent-power";  // which homes have it is not known yet either
  const auto proposed = first.post(api + "/profile-proposals", half);
  INFO(proposed.body);
  REQUIRE(proposed.status == 201);
  CHECK(proposed.json()["effect"]["state"] == "computing");
  const auto at = TwoBenches::at(proposed.json());
  const auto early = second.post(at + "/decision", {{"approve", true}});
  CHECK(early.status == 409);
  CHECK(early.problem() == "effect-not-known");
  CHECK_THAT(early.json()["detail"].get<std::string>(), holds("still being worked out whose dates this would move"));
  CHECK(second.get(at).json()["state"] == "waiting");
  // Refusing moves nothing, nor do steps: neither waits.
  const auto another = first.post(api + "/profile-proposals", half);
  CHECK(second.post(TwoBenches::at(another.json()) + "/decision", {{"approve", false}}).status == 200);
  const json steps{{"kind", "steps"},
                   {"stimulator", "percent-power"},
                   {"steps", {"First this."}},
                   {"source", "an invented card, page 2"},
                   {"date", "2026-05-01"}};
  const auto card = first.post(api + "/profile-proposals", steps);
  CHECK(second.post(TwoBenches::at(card.json()) + "/decision", {{"approve", true}}).status == 200);

  // It is worked out beside the service, ten seconds after a start at the earliest (service/review_renewal.cpp).
  auto effect = second.get(at).json()["effect"];
  for (int tries = 0; tries < 600 && effect["state"] != "done"; ++tries) {
    std::this_thread::sleep_for(std::chrono::milliseconds(100));
    effect = second.get(at).json()["effect"];
  }
  REQUIRE(effect["state"] == "done");
  CHECK(effect["moves"].size() == 2);
  const auto approved = second.post(at + "/decision", {{"approve", true}});
  CHECK(approved.status == 200);
  CHECK(approved.json()["version"] == 1);
}

TEST_CASE("an export carries what its agency approved, so that elsewhere it gives the same forecast", "[http]") {
  TwoBenches benches;
  auto& [home, first, second] = benches;
  const auto approve = [&](const json& proposal) {
    const auto proposed = first.post(api + "/profile-proposals", proposal);
    REQUIRE(proposed.status == 201);
    REQUIRE(second.post(TwoBenches::at(proposed.json()) + "/decision", {{"approve", true}}).status == 200);
  };
  const json bursts{{{"side", "left"}, {"amplitude", 4.0}, {"current_mA", 110}},
                    {{"side", "right"}, {"amplitude", 4.0}, {"current_mA", 30}}};
  approve(a_cell(published));
  approve({{"kind", "unit"}, {"serial", "u-1"}, {"at", from_now(-3600)}, {"bursts", bursts}});
  const json change{
      {"at", from_now(-60)}, {"side", "left"}, {"reason", "planned"}, {"cells", {{"profile", "lr6-pasted"}}}};
  REQUIRE(home.client.post(api + "/households/h-1/cell-changes", change).status == 201);
  const auto exported = home.client.get(api + "/households/h-1/export").json();
  const auto& profiles = exported["profiles"];
  CHECK(profiles["cells"][0]["id"] == "lr6-pasted");
  CHECK(profiles["units"][0]["serial"] == "u-1");
  CHECK_FALSE(profiles.contains("stimulators"));
  REQUIRE(profiles["before"].size() == 2);  // the right side's cells were in before both
  CHECK_FALSE(profiles["before"][1].contains("units"));
  const auto here = home.forecast();
  const auto elsewhere = forecast_of_export(exported.dump(), here["as_of"]);
  for (const char* side : {"left", "right"}) {
    INFO(side);
    for (const char* part : {"change_by", "remaining_h", "nights", "phrase", "warning_at"})
      CHECK(elsewhere["sides"][side][part] == here["sides"][side][part]);
  }
  auto without = exported;
  without.erase("profiles");
  CHECK(forecast_of_export(without.dump(), here["as_of"])["sides"]["left"]["phrase"] == "no_forecast");
}

TEST_CASE("a unit of which the gauge alone was measured was measured; what was mistaken is told by its field",
          "[http]") {
  TwoBenches benches;
  auto& [home, first, second] = benches;
  json gauge{{"kind", "unit"},
             {"serial", "u-1"},
             {"at", from_now(86400)},
             {"gauge", {{{"set_V", 3.0}, {"percent", 1}}, {{"set_V", 2.4}, {"percent", 0.5}}}}};
  const auto problems = [&](const json& body) {
    return first.send("POST", api + "/profiles/read", body.dump()).json()["problems"];
  };
  auto found = problems(gauge);
  REQUIRE(found.size() == 3);
  CHECK(found[0]["place"] == "/gauge/0/percent");
  CHECK_THAT(found[1]["reason"].get<std::string>(), holds("write 50 %"));
  CHECK(found[2]["place"] == "/at");
  CHECK_THAT(found[2]["reason"].get<std::string>(), holds("has not come yet"));
  CHECK(first.post(api + "/profile-proposals", gauge).json()["errors"][2]["place"] == "/at");
  gauge["at"] = from_now(-3600);
  gauge["gauge"] = {{{"set_V", 3.0}, {"percent", 100}}, {{"set_V", 1.9}, {"percent", 0}}};
  auto with_current = gauge;
  with_current["bursts"] = {{{"side", "left"}, {"amplitude", 4.0}, {"current_mA", 0.06}}};
  found = problems(with_current);
  REQUIRE(found.size() == 1);
  CHECK(found[0]["place"] == "/bursts/0/current_mA");

  const auto never = first.get(api + "/units/u-1").json();
  CHECK(never["measured"] == false);
  CHECK(never["profile"].is_null());
  const auto proposed = first.post(api + "/profile-proposals", gauge);
  REQUIRE(proposed.status == 201);
  const auto waits = first.get(api + "/units/u-1").json();
  CHECK(waits["measured"] == true);
  REQUIRE(waits["bench_values"].size() == 2);
  CHECK(waits["bench_values"][0]["what"] == "gauge at 3 V");
  CHECK(waits["bench_values"][0]["measured"] == 100);
  CHECK(waits["bench_values"][0]["unit"] == "%");
  CHECK(waits["bench_values"][0]["expected"].is_number());
  CHECK(waits["profile"].is_null());  // nobody has approved it
  REQUIRE(second.post(TwoBenches::at(proposed.json()) + "/decision", {{"approve", true}}).status == 200);
  const auto unit = first.get(api + "/units/u-1").json();
  REQUIRE(unit["profile"].is_object());
  CHECK(unit["profile"]["number"] == proposed.json()["number"]);
  CHECK_THAT(unit["profile"]["text"].get<std::string>(), holds("Its own measured values are in force since "));
}

TEST_CASE("steps for handling a unit are shown once a second technician approves them, until then one sentence",
          "[http]") {
  TwoBenches benches;
  auto& [home, first, second] = benches;
  const auto handling = [&] { return home.client.get(api + "/households/h-1").json()["handling"]; };
  CHECK(handling()["approved"] == false);
  CHECK(handling()["text"] == "Follow the maker's card; wearer awake or on the backup.");
  CHECK(handling()["steps"].empty());
  const json steps{{"kind", "steps"},
                   {"stimulator", "percent-power"},
                   {"steps", {"First this.", "Then that."}},
                   {"source", "an invented card, page 2"},
                   {"date", "2026-05-01"}};
  const auto proposed = first.post(api + "/profile-proposals", steps);
  REQUIRE(proposed.status == 201);
  CHECK(handling()["steps"].empty());
  REQUIRE(second.post(TwoBenches::at(proposed.json()) + "/decision", {{"approve", true}}).status == 200);
  CHECK(handling()["approved"] == true);
  CHECK(handling()["steps"].size() == 2);
  CHECK(handling()["source"] == "an invented card, page 2");
  auto undated = steps;
  undated["date"] = "May";
  CHECK(first.post(api + "/profile-proposals", undated).status == 422);
}

// Section 9.7: settings are recorded as the clinician gave them. What the unit can be set to stands in its profile.
TEST_CASE("what a unit can be set to is told as its profile has it, and settings beyond that are kept as given",
          "[http]") {
  Home at;
  std::ifstream stream(std::string(CELLARER_SOURCE_DIR) + "/data/stimulators/percent-power.json");
  const auto range = json::parse(stream).at("settings_range");
  const auto told = at.client.get(api + "/profiles/stimulators/percent-power").json();
  CHECK(told["settings_range"] == range);
  const double beyond = range["amplitude"][1].get<double>() + 1;
  const auto recorded = at.client.post(at_home + "/settings", {{"from", from_now(-60)},
                                                               {"side", "left"},
                                                               {"rate_per_min", 12},
                                                               {"inspiratory_fraction", 0.28},
                                                               {"amplitude", beyond},
                                                               {"paced", json::array()}});
  REQUIRE(recorded.status == 201);
  CHECK(at.client.get(at_home).json()["settings"]["left"]["amplitude"] == beyond);
}
