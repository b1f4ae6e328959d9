// SPDX-License-Identifier: MIT
// A clock before the newest entry: no forecasts of any kind, until it is right again; what happened is recorded all the
// same.
#include "tests/support/catch.hpp"
#include "tests/support/service.hpp"
#include "tests/support/store_by_hand.hpp"

using namespace cellarer::testing;
using nlohmann::json;

TEST_CASE("while an entry of a later time is there, nothing is forecast, planned or packed, and records are taken",
          "[http]") {
  Home at;
  const auto now = from_now(-1);
  const json stay{{"from", from_now(86400)}, {"to", from_now(3 * 86400)}};
  CHECK(at.client.post(at_home + "/stays", stay).json()["packing"].is_object());
  const std::string reads[] = {api + "/ready",
                               at_home + "/forecast",
                               at_home + "/chart?side=left",
                               at_home + "/desk",
                               at_home + "/forecast-then?at=" + now,
                               api + "/board",
                               api + "/plan",
                               api + "/plan/remedies",
                               api + "/exports/forecast.csv"};
  for (const auto& read : reads) {
    INFO(read);
    CHECK(at.client.get(read).status == 200);
  }
  const auto data = at.service.data();
  REQUIRE(at.service.terminate() == 0);
  // As if the clock had stood 400 days ahead when it was recorded, and was set right since.
  change_by_hand(data, "UPDATE entry SET recorded_at = recorded_at + 34560000 WHERE number = 3");
  Service again(nullptr, data);
  HttpClient client(again.port());
  for (const auto& read : reads) {
    const auto answer = client.get(read);
    INFO(read << " " << answer.body.substr(0, 300));
    CHECK(answer.status == 503);
    CHECK(answer.problem() == "clock-behind");
    CHECK(answer.body.find("change_by") == std::string::npos);
  }
  const auto asked = client.post(api + "/plan/consequence", {{"plan", "any"}, {"stop", "h-1"}, {"from", "any"}});
  CHECK(asked.problem() == "clock-behind");
  const auto away = client.post(at_home + "/stays", stay);
  REQUIRE(away.status == 201);
  CHECK(away.json()["packing"].is_null());
  CHECK(away.json()["forecast"].is_null());
  const auto reading = client.post(at_home + "/readings", {{"at", from_now(-60)}, {"side", "left"}, {"percent", 62}});
  CHECK(reading.status == 201);
  CHECK(reading.json()["forecast"].is_null());
  const auto moved = client.post(at_home + "/stop", {{"area", "north"}});
  CHECK(moved.status == 201);
  CHECK(moved.json()["row"].is_null());
  CHECK(client.get(at_home + "/entries").status == 200);
  // Taken back, the entry counts no longer, and forecasts are made again.
  CHECK(client.post(at_home + "/voids", {{"entry", 3}}).status == 201);
  CHECK(client.get(api + "/ready").status == 200);
  CHECK(client.get(api + "/board").status == 200);
}
