// SPDX-License-Identifier: MIT
// The technician's bench by HTTP: history, findings and what becomes of them, units, worn parts.
#include "tests/support/catch.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {

constexpr long set_days = 10, sets = 18;

/// A household `h-9` whose left side has used more since its eleventh set; everything recorded by the administrator.
struct Workshop {
  Home home;
  HttpClient technician{home.service.port(),
                        home.service.let_in({"--role", "technician", "--label", "Bench", "--without-passkey"})};

  Workshop() {
    record("/households", {{"household", "h-9"}, {"zone", "Europe/Oslo"}, {"changing_times", {"21:30"}}});
    const json nights{{"days", {"mon", "tue", "wed", "thu", "fri", "sat", "sun"}}, {"from", "21:00"}, {"to", "07:30"}};
    const long start = -(sets * set_days + 6) * day_s;
    record("/households/h-9/units",
           {{"serial", "u-9"}, {"stimulator", "percent-power"}, {"from", from_now(start - day_s)}});
    for (const char* side : {"left", "right"}) {
      record("/households/h-9/settings", {{"from", from_now(start - day_s)},
                                          {"side", side},
                                          {"rate_per_min", 12},
                                          {"inspiratory_fraction", 0.28},
                                          {"amplitude", 4.0},
                                          {"paced", {nights}}});
      const bool left = side == std::string("left");
      for (long set = 0; set <= sets; ++set) {
        const long in = start + set * set_days * day_s + (left ? 0 : 5 * day_s);
        record("/households/h-9/cell-changes", {{"at", from_now(in)},
                                                {"side", side},
                                                {"reason", "planned"},
                                                {"cells", {{"profile", "lr6-family"}, {"lot", "=A1"}}},
                                                {"from_stock", false}});
        if (set == sets) break;
        const int percent = (set % 2 == 0 ? 41 : 39) - (left && set >= 10 ? 18 : 0);
        record("/households/h-9/readings",
               {{"at", from_now(in + set_days * day_s - 7200)}, {"side", side}, {"percent", percent}});
      }
    }
  }

  void record(const std::string& path, const json& body) {
    const auto answer =
        home.client.send("POST", api + path, body.dump(),
                         {"Content-Type: application/json", "Idempotency-Key: " + new_key(), "Prefer: return=minimal"});
    REQUIRE(answer.status == 201);
  }

  json findings(const std::string& state) {
    return technician.get(api + "/findings?household=h-9&state=" + state).json()["findings"];
  }
};

}  // namespace

TEST_CASE("the technician sees why a side uses more, takes it on, and closes it with a reason", "[http]") {
  Workshop at;
  const auto history = at.technician.get(api + "/households/h-9/sides/left/history");
  REQUIRE(history.status == 200);
  const auto document = history.json();
  REQUIRE(document["sets"].size() == sets);
  CHECK(document["sets"][0]["ended"] == "planned");
  CHECK(document["sets"][0]["settings"]["hours_per_day"] == 10.5);
  CHECK(document["sets"][17]["observed"]["more_percent"] > document["sets"][0]["observed"]["more_percent"]);
  CHECK(document["left_against_right"]["more_percent"] > 0);
  REQUIRE(document["findings"].size() == 1);
  CHECK(at.technician.get(api + "/households/h-9/sides/middle/history").status == 404);

  const auto table = at.technician.get(api + "/households/h-9/sides/left/history.csv");
  REQUIRE(table.status == 200);
  CHECK(table.headers.at("content-type") == "text/csv; charset=utf-8");
  CHECK_THAT(table.body, holds(",'=A1,planned,"));

  auto finding = at.findings("open").at(0);
  CHECK(finding["household"] == "h-9");
  CHECK(finding["scope"] == "left");
  CHECK_FALSE(finding["causes"].empty());
  const auto note = [&](const char* state, const json& more = json::object()) {
    json body{{"finding", finding["id"]}, {"state", state}, {"follows", finding["newest"]}};
    body.update(more);
    return at.technician.post(api + "/findings/state", body);
  };
  const auto seen = note("seen");
  REQUIRE(seen.status == 201);
  CHECK(seen.json()["state"] == "seen");
  CHECK(note("taken_on").problem() == "outdated");  // somebody has seen it since
  finding = seen.json();
  CHECK(note("closed").status == 422);  // why?
  const auto closed = note("closed", {{"reason", "cause_removed"}, {"note", "=settings set as recorded"}});
  REQUIRE(closed.status == 201);
  CHECK(at.findings("open").empty());
  REQUIRE(at.findings("closed").size() == 1);
  CHECK(at.findings("closed")[0]["history"][1]["reason"] == "cause_removed");
  CHECK(at.technician.post(api + "/findings/state", {{"finding", "use/none"}, {"state", "seen"}, {"follows", 0}})
            .problem() == "unknown-finding");

  HttpClient planner(at.home.service.port(),
                     at.home.service.let_in({"--role", "planner", "--label", "Desk", "--without-passkey"}));
  CHECK(planner.get(api + "/findings").status == 403);
}

TEST_CASE("a unit has places, faults and sets; parts that wear are due", "[http]") {
  Workshop at;
  const auto units = at.technician.get(api + "/units").json()["units"];
  CHECK(units.size() == 2);  // u-1 of h-1 and u-9
  CHECK(at.technician.post(api + "/units/u-9/events", {{"at", from_now(-3600)}, {"what", "workshop"}}).status == 201);
  CHECK(at.technician.post(api + "/units/u-9/events", {{"at", from_now(-60)}, {"what", "thrown"}}).status == 422);
  CHECK(at.technician.post(api + "/units//events", {{"at", from_now(-60)}, {"what", "fault"}}).problem() ==
        "unknown-unit");
  // Taken back is what was recorded of that unit, nothing else.
  const auto fault = at.technician.post(api + "/units/u-1/events", {{"at", from_now(-7200)}, {"what", "fault"}});
  REQUIRE(fault.status == 201);
  const json taken_back{{"what", "void"}, {"voids", fault.json()["number"]}};
  CHECK(at.technician.post(api + "/units/u-9/events", taken_back).problem() == "unknown-entry");
  CHECK(at.technician.post(api + "/units/u-1/events", {{"what", "void"}, {"voids", 1'000'000}}).problem() ==
        "unknown-entry");
  CHECK(at.technician.post(api + "/units/u-1/events", taken_back).status == 201);
  const auto unit = at.technician.get(api + "/units/u-9").json();
  CHECK(unit["place"]["kind"] == "workshop");
  CHECK(unit["places"].size() == 2);
  CHECK(unit["sets_list"].size() == 2 * sets);
  CHECK(at.technician.get(api + "/units/none").problem() == "unknown-unit");
  CHECK(at.technician.get(api + "/lots-in-use").json()["lots"][0]["lot"] == "=A1");

  const auto part = [&](long days_ago, const char* why) {
    return at.technician.post(
        api + "/households/h-9/parts",
        {{"part", "antenna"}, {"side", "left"}, {"at", from_now(-days_ago * day_s)}, {"why", why}});
  };
  CHECK(part(100, "first").status == 201);
  CHECK(part(70, "worn_out").status == 201);
  CHECK(part(30, "worn_out").status == 201);
  const auto wear = at.technician.get(api + "/wear").json()["kinds"];
  REQUIRE(wear.size() == 1);
  CHECK(wear[0]["worn_out"] == 2);
  CHECK(wear[0]["due"][0]["household"] == "h-9");
  CHECK(wear[0]["due"][0]["side"] == "left");
  CHECK_THAT(wear[0]["due"][0]["text"].get<std::string>(), holds("Left side. In use for 30 days."));

  const auto check =
      at.technician.post(api + "/households/h-9/checks",
                         {{"side", "left"}, {"at", from_now(-60)}, {"what", "hours_noted"}, {"hours_per_day", 10.5}});
  REQUIRE(check.status == 201);
  const auto none =
      at.technician.post(api + "/households/h-9/checks",
                         {{"side", "left"}, {"at", from_now(-60)}, {"what", "hours_noted"}, {"hours_per_day", 0}});
  CHECK(none.status == 422);
  CHECK(none.json()["errors"][0]["place"] == "/hours_per_day");
  const auto history = at.technician.get(api + "/households/h-9/sides/left/history").json();
  REQUIRE(history["checks"].size() == 1);
  CHECK(history["checks"][0]["more_percent"] == 0);
  CHECK(at.technician.post(api + "/households/h-9/voids", {{"entry", check.json()["entry"]["id"]}}).status == 201);
  CHECK(at.technician.get(api + "/households/h-9/sides/left/history").json()["checks"].empty());
}
