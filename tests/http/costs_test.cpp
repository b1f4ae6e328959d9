// SPDX-License-Identifier: MIT
// What cells cost beside being used up, and the rounds as a calendar, over HTTP. A calendar's form is RFC 5545's.
#include <thread>

#include "tests/support/catch.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {

json computed(HttpClient& client, const std::string& path) {
  for (int tries = 0; tries < 100; ++tries) {
    const auto answer = client.get(path);
    if (answer.status == 200) return answer.json();
    REQUIRE(answer.status == 202);
    CHECK(answer.json()["computing"] == true);
    std::this_thread::sleep_for(std::chrono::milliseconds(100));
  }
  return nullptr;
}

}  // namespace

TEST_CASE("charge left in sets that came out, and cells thrown away, are told to the agency and to no household",
          "[costs]") {
  Home at;
  CHECK(computed(at.client, api + "/costs/waste")["sets"] == 0);
  const json change{{"at", from_now(-600)},
                    {"side", "left"},
                    {"reason", "planned"},
                    {"cells", {{"profile", "lr6-family"}, {"lot", "A1"}}}};
  REQUIRE(at.client.post(api + "/households/h-1/cell-changes", change).status == 201);
  const json old{{"at", from_now(-500)}, {"item", "cells"}, {"lot", "A0"}, {"quantity", 6}, {"expires", "2020-01"}};
  REQUIRE(at.client.post(api + "/households/h-1/discards", old).status == 201);
  const auto waste = computed(at.client, api + "/costs/waste?months=3");
  CHECK(waste["cells_used"] == 2);
  // A set that was in for a day of about twelve has most of its charge left.
  const auto& share = waste["thrown_away"]["share"];
  CHECK(share["p50"].get<double>() > 0.8);
  CHECK(share["p05"].get<double>() <= share["p50"].get<double>());
  CHECK(share["p50"].get<double>() <= share["p95"].get<double>());
  CHECK(waste["expired_cells"] == 6);
  CHECK(waste["discarded_cells"] == 0);
  CHECK(at.client.get(api + "/costs/waste?months=99").problem() == "out-of-range");
  HttpClient phone(at.service.port(),
                   at.service.let_in({"--role", "household", "--household", "h-1", "--label", "Phone"}));
  CHECK(phone.get(api + "/costs/waste").problem() == "not-allowed");
}

TEST_CASE("the curve: more risk or more changing times, fewer sets a year", "[costs]") {
  Home at;
  const auto curve = computed(at.client, api + "/costs/risk-curve");
  CHECK(curve["sides"] == 2);
  REQUIRE(curve["points"].size() == 30);
  double before = 1e9;
  for (std::size_t i = 0; i < 10; ++i) {
    const double once = curve["points"][i]["sets_a_year"]["p50"], twice = curve["points"][10 + i]["sets_a_year"]["p50"];
    CHECK(once <= before);
    CHECK(twice <= once);
    before = once;
  }
  // A closed home uses no sets.
  REQUIRE(at.client.post(api + "/households/h-1/close", json::object()).status == 201);
  const auto closed = computed(at.client, api + "/costs/risk-curve");
  CHECK(closed["sides"] == 0);
  CHECK(closed["households"] == 0);
}

TEST_CASE("the rounds are read as a calendar by a secret address, until it is renewed or ended", "[costs]") {
  Home at;
  const json rule{{"name", "North"}, {"area", "North"}, {"weekdays", {"mon", "thu"}}, {"stops", 12}, {"lead_days", 2}};
  const json items{{{"item", "cells"}, {"pieces_per_pack", 24}, {"pieces_per_set", 2}}};
  const json calendar{{"follows", 0}, {"horizon_days", 28}, {"rules", json::array({rule})}, {"items", items}};
  REQUIRE(at.client.post(api + "/calendar", calendar).status / 100 == 2);
  CHECK(at.client.get(api + "/rounds-feed").json()["made_at"].is_null());
  const auto path_of = [&] {
    const auto made = at.client.post(api + "/rounds-feed", json::object());
    REQUIRE(made.status == 201);
    const auto address = made.json()["address"].get<std::string>();
    return address.substr(address.find("/api/"));
  };
  const auto first = path_of();
  HttpClient nobody(at.service.port(), "");
  const auto read = nobody.get(first);
  REQUIRE(read.status == 200);
  CHECK(read.headers.at("content-type") == "text/calendar; charset=utf-8");
  CHECK(read.body.starts_with("BEGIN:VCALENDAR\r\n"));
  CHECK(read.body.find("DTSTART;VALUE=DATE:") != std::string::npos);
  CHECK(read.body.find("SUMMARY:Round: North") != std::string::npos);
  CHECK(read.body.find("h-1") == std::string::npos);
  const auto second = path_of();
  CHECK(nobody.get(first).problem() == "not-found");
  CHECK(nobody.get(second).status == 200);
  CHECK(at.client.get(api + "/rounds-feed").json()["by"] == "Tests");
  CHECK(at.client.send("DELETE", api + "/rounds-feed").status == 204);
  CHECK(nobody.get(second).problem() == "not-found");
  CHECK(nobody.get(api + "/feeds/rounds.ics?key=other.aaaa").problem() == "not-found");
}
