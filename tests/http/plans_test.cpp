// SPDX-License-Identifier: MIT
// Plans through the API: recorded, counted, asked about, ended, taken back; and the comparison that stores nothing.
#include <fstream>

#include "tests/support/catch.hpp"
#include "tests/support/schema.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {

constexpr long hour = 3600, one_day = 24 * hour;

bool asks(const json& side, const std::string& code) {
  for (const auto& question : side["questions"]) {
    if (question["code"] == code) return true;
  }
  return false;
}

json settings_of(const char* side, const json& more = json::object()) {
  json body{{"side", side}, {"rate_per_min", 12}, {"inspiratory_fraction", 0.28}, {"amplitude", 4.0}};
  body.update(more);
  return body;
}

const json evening =
    json::parse(R"([{"days": ["mon", "tue", "wed", "thu", "fri", "sat", "sun"], "from": "20:00", "to": "21:00"}])");

}  // namespace

TEST_CASE("an infection shortens what is left, is asked about, goes on, ends, and is taken back", "[http]") {
  Home at;
  at.client.post(at_home + "/settings", settings_of("left", {{"from", from_now(-2 * one_day)}, {"paced", evening}}));
  const auto before = at.forecast()["sides"]["left"]["remaining_h"]["p50"].get<double>();
  const auto fever = at.client.post(
      at_home + "/paced-more",
      {{"from", from_now(-73 * hour)}, {"sides", {"left"}}, {"hours_per_day", 24}, {"why", "infection"}});
  REQUIRE(fever.status == 201);
  const auto entry = fever.json()["entry"]["id"];
  CHECK(fever.json()["entry"]["text"] == "Left: paced all day, infection.");
  const auto open = fever.json()["forecast"];
  CHECK(open["sides"]["left"]["remaining_h"]["p50"] < 0.5 * before);
  CHECK(asks(open["sides"]["left"], "still_paced_more"));
  CHECK_FALSE(asks(open["sides"]["right"], "still_paced_more"));
  REQUIRE(open["plans"].size() == 1);
  CHECK(open["plans"][0]["entry"] == entry);
  CHECK(open["plans"][0]["can_end"] == true);

  const auto still = at.client.post(at_home + "/answers", {{"entry", entry}, {"answer", "still"}});
  REQUIRE(still.status == 201);
  CHECK_FALSE(asks(still.json()["forecast"]["sides"]["left"], "still_paced_more"));

  const auto ended = at.client.post(at_home + "/ends", {{"entry", entry}, {"at", from_now(-60)}});
  REQUIRE(ended.status == 201);
  CHECK(ended.json()["forecast"]["plans"].empty());
  CHECK(ended.json()["forecast"]["sides"]["left"]["remaining_h"]["p50"] > 0.6 * before);
  at.client.post(at_home + "/voids", {{"entry", ended.json()["entry"]["id"]}});
  CHECK(at.forecast()["plans"].size() == 1);
  at.client.post(at_home + "/voids", {{"entry", entry}});
  CHECK(at.forecast()["sides"]["left"]["remaining_h"]["p50"].get<double>() == Approx(before).epsilon(0.01));
}

TEST_CASE("a visit brings change by forward, and back when it is taken back", "[http]") {
  Home at;
  const auto before = at.forecast()["sides"]["left"]["change_by"];
  const auto visit = at.client.post(at_home + "/visits", {{"at", from_now(2 * one_day)}, {"sides", {"left"}}});
  REQUIRE(visit.status == 201);
  const auto left = visit.json()["forecast"]["sides"]["left"];
  CHECK(left["change_by"] != before);
  CHECK(left["change_by_reason"] == "visit");
  CHECK(left["change_by"].get<std::string>().substr(11, 5) == "21:30");
  at.client.post(at_home + "/voids", {{"entry", visit.json()["entry"]["id"]}});
  CHECK(at.forecast()["sides"]["left"]["change_by"] == before);
}

TEST_CASE("in hospital nothing is forecast or asked; back home what is not known is asked for", "[http]") {
  Home at;
  const auto admitted = at.client.post(at_home + "/hospital", {{"from", from_now(-10 * hour)}});
  REQUIRE(admitted.status == 201);
  auto forecast = admitted.json()["forecast"];
  for (const char* side : {"left", "right"}) {
    CHECK(forecast["sides"][side]["phrase"] == "no_forecast");
    CHECK(forecast["sides"][side]["questions"].empty());
  }
  CHECK(forecast["in_hospital"]["entry"] == admitted.json()["entry"]["id"]);
  CHECK(at.client.get(at_home).json()["in_hospital"]["entry"] == admitted.json()["entry"]["id"]);

  const auto back =
      at.client.post(at_home + "/back-home", {{"at", from_now(-hour)}, {"cells", {{"left", {{"are", "dont_know"}}}}}});
  REQUIRE(back.status == 201);
  forecast = back.json()["forecast"];
  CHECK(forecast["in_hospital"].is_null());
  CHECK(asks(forecast["sides"]["left"], "which_settings"));
  CHECK(asks(forecast["sides"]["left"], "which_unit"));
  for (const char* side : {"left", "right"})
    at.client.post(at_home + "/settings", settings_of(side, {{"from", from_now(-hour)}}));
  at.client.post(at_home + "/units", {{"serial", "u-1"}, {"stimulator", "percent-power"}, {"from", from_now(-hour)}});
  forecast = at.forecast();
  const auto phrase = forecast["sides"]["left"]["phrase"].get<std::string>();
  CHECK((phrase == "change_before_tonight" || phrase == "change_now"));
  CHECK(asks(forecast["sides"]["left"], "which_cells"));
  CHECK(at.cells() == 24);

  const auto undone = at.client.post(at_home + "/voids", {{"entry", back.json()["entry"]["id"]}});
  CHECK(undone.json()["forecast"]["sides"]["left"]["phrase"] == "no_forecast");
}

TEST_CASE("other settings and another cell side by side, and nothing is stored", "[http]") {
  Home at;
  const auto entries = at.client.get(at_home + "/entries").body;
  const auto served = at.forecast();
  const auto answer = at.client.send(
      "POST", at_home + "/what-if",
      json{{"settings", {settings_of("left", {{"amplitude", 5.0}})}}, {"cells", {{"right", "lr6-family"}}}}.dump(),
      {"Content-Type: application/json"});
  INFO(answer.body);
  REQUIRE(answer.status == 200);
  const auto both = answer.json();
  const auto& recorded = both["as_recorded"]["sides"];
  const auto& typed = both["as_typed_in"]["sides"];
  CHECK(recorded["left"]["change_by"] == served["sides"]["left"]["change_by"]);
  CHECK(typed["left"]["remaining_h"]["p50"] < recorded["left"]["remaining_h"]["p50"]);
  CHECK(typed["left"]["fresh_set_h"]["p50"] < recorded["left"]["fresh_set_h"]["p50"]);
  CHECK(typed["right"]["remaining_h"]["p50"] >= recorded["right"]["remaining_h"]["p50"]);
  CHECK(at.client.get(at_home + "/entries").body == entries);
  CHECK(at.forecast()["sides"]["left"]["remaining_h"]["p50"].get<double>() ==
        Approx(served["sides"]["left"]["remaining_h"]["p50"].get<double>()).epsilon(0.01));
  std::ifstream stream(std::string(CELLARER_SOURCE_DIR) + "/data/schema/forecast.schema.json");
  const auto schema = json::parse(stream);
  for (const char* which : {"as_recorded", "as_typed_in"}) {
    const auto faults = schema_faults(schema, schema, both[which]);
    INFO(json(faults).dump());
    CHECK(faults.empty());
  }
}

TEST_CASE("what cannot be said about a plan is refused by its place, and stores nothing", "[http]") {
  Home at;
  const auto entries = at.client.get(at_home + "/entries").body;
  const json both_sides = {"left", "right"};
  const auto growing = [&](const json& growth, const json& paced = evening) {
    return settings_of("left", {{"from", from_now(-hour)}, {"paced", paced}, {"growth", growth}});
  };
  struct Bad {
    const char* path;
    json body;
    const char *code, *place;
  };
  const std::vector<Bad> all{
      {"/settings", growing({{"minutes_per_week", 0}, {"up_to_hours", 14}}), "out-of-range",
       "/growth/minutes_per_week"},
      {"/settings", growing({{"minutes_per_week", 60}, {"up_to_hours", 0.5}}), "out-of-range", "/growth/up_to_hours"},
      {"/settings", growing({{"minutes_per_week", 60}, {"up_to_hours", 25}}), "out-of-range", "/growth/up_to_hours"},
      {"/settings", growing({{"minutes_per_week", 60}}), "missing", "/growth/up_to_hours"},
      {"/settings", growing({{"minutes_per_week", 60}, {"up_to_hours", 14}}, json::array()), "missing", "/paced"},
      {"/paced-more", {{"from", from_now(-60)}, {"hours_per_day", 24}}, "missing", "/sides"},
      {"/paced-more", {{"from", from_now(-60)}, {"sides", both_sides}}, "missing", "/hours_per_day"},
      {"/paced-more",
       {{"from", from_now(-60)}, {"sides", both_sides}, {"hours_per_day", 25}},
       "out-of-range",
       "/hours_per_day"},
      {"/paced-more",
       {{"from", from_now(-60)}, {"sides", {"left", "left"}}, {"hours_per_day", 24}},
       "out-of-range",
       "/sides/1"},
      {"/paced-more",
       {{"from", from_now(-60)}, {"sides", json::array()}, {"hours_per_day", 24}},
       "out-of-range",
       "/sides"},
      {"/paced-more", {{"from", from_now(one_day)}, {"sides", both_sides}, {"amplitude", 5}}, "future-date", "/from"},
      {"/visits", {{"at", "tomorrow"}, {"sides", both_sides}}, "wrong-type", "/at"},
      {"/visits", {{"sides", both_sides}}, "missing", "/at"},
      {"/stays",
       {{"from", from_now(one_day)}, {"to", from_now(2 * one_day)}, {"zone", "the sea"}},
       "out-of-range",
       "/zone"},
      {"/stays",
       {{"from", from_now(one_day)}, {"to", from_now(2 * one_day)}, {"changing_times", {"25:00"}}},
       "wrong-type",
       "/changing_times/0"},
      {"/hospital", json::object(), "missing", "/from"},
      {"/back-home", {{"at", from_now(-60)}, {"settings", "perhaps"}}, "out-of-range", "/settings"},
      {"/back-home",
       {{"at", from_now(-60)}, {"cells", {{"left", {{"are", "old"}}}}}},
       "out-of-range",
       "/cells/left/are"},
      {"/ends", {{"entry", 1}, {"at", from_now(-60)}}, "nothing-to-end", ""},
      {"/ends", {{"entry", 999}, {"at", from_now(-60)}}, "unknown-entry", ""},
      {"/what-if", json::object(), "missing", "/settings"},
      {"/what-if", {{"cells", {{"left", "lr6-nobody"}}}}, "out-of-range", "/cells/left"},
      {"/what-if", {{"settings", {settings_of("left"), settings_of("left")}}}, "out-of-range", "/settings/1/side"},
  };
  for (const auto& bad : all) {
    const auto answer = at.client.post(at_home + bad.path, bad.body);
    INFO(bad.path << " " << bad.body.dump() << " -> " << answer.body);
    CHECK(answer.status >= 400);
    CHECK(answer.problem() == bad.code);
    if (*bad.place == '\0') continue;
    REQUIRE(answer.json()["errors"].size() == 1);
    CHECK(answer.json()["errors"][0]["place"] == bad.place);
    CHECK(answer.json()["errors"][0]["reason"].get<std::string>().size() > 10);
  }
  CHECK(at.client.get(at_home + "/entries").body == entries);
}

TEST_CASE("plans go through the export to the same forecast, and hold to the schemas", "[http]") {
  Home at;
  at.client.post(at_home + "/settings",
                 settings_of("left", {{"from", from_now(-2 * one_day)},
                                      {"paced", evening},
                                      {"growth", {{"minutes_per_week", 60}, {"up_to_hours", 14}}}}));
  at.client.post(at_home + "/paced-more", {{"from", from_now(-one_day)}, {"sides", {"right"}}, {"amplitude", 4.6}});
  at.client.post(at_home + "/visits",
                 {{"at", from_now(3 * one_day)}, {"sides", {"left", "right"}}, {"note", "clinic"}});
  at.client.post(at_home + "/stays", {{"from", from_now(4 * one_day)},
                                      {"to", from_now(8 * one_day)},
                                      {"zone", "Asia/Tokyo"},
                                      {"changing_times", {"20:00"}}});
  at.client.post(at_home + "/units", {{"serial", "u-2"},
                                      {"stimulator", "percent-power"},
                                      {"from", from_now(2 * one_day)},
                                      {"confirmed", {"future-date"}}});
  at.client.post(at_home + "/hospital", {{"from", from_now(-30 * hour)}});
  at.client.post(at_home + "/back-home",
                 {{"at", from_now(-28 * hour)},
                  {"settings", "as_before"},
                  {"unit", "as_before"},
                  {"unit_used", "yes"},
                  {"cells", {{"left", {{"are", "as_before"}}}, {"right", {{"are", "dont_know"}}}}}});
  const auto served = at.forecast();
  CHECK(served["plans"].size() == 5);
  const auto exported = at.client.get(at_home + "/export");
  for (const std::string name : {"household", "forecast"}) {
    std::ifstream stream(std::string(CELLARER_SOURCE_DIR) + "/data/schema/" + name + ".schema.json");
    const auto schema = json::parse(stream);
    const auto faults = schema_faults(schema, schema, name == "household" ? exported.json() : served);
    INFO(json(faults).dump());
    CHECK(faults.empty());
  }
  const auto alone = forecast_of_export(exported.body, served["as_of"].get<std::string>());
  CHECK(alone["sides"] == served["sides"]);
  CHECK(alone["plans"].size() == served["plans"].size());
  CHECK(alone["in_hospital"] == served["in_hospital"]);
}
