// SPDX-License-Identifier: MIT
// The life of a household through the API, as a client with nothing but HTTP lives it.
#include <fstream>

#include "tests/support/catch.hpp"
#include "tests/support/schema.hpp"
#include "tests/support/service.hpp"

using namespace cellarer::testing;
using nlohmann::json;

namespace {}

TEST_CASE("a household is created, forecast, its cells changed, the stock falls, and the undo brings it back",
          "[http]") {
  Home at;
  const auto before = at.forecast();
  CHECK(before["household"] == "h-1");
  CHECK(before["zone"] == "Europe/Oslo");
  CHECK(before["disclaimer"] == "An estimate. The unit's own alarm comes first: act on it at once.");
  for (const char* side : {"left", "right"}) {
    const auto phrase = before["sides"][side]["phrase"].get<std::string>();
    INFO(side << ": " << before["sides"][side].dump());
    CHECK((phrase == "expected_to_last_tonight" || phrase == "change_before_tonight" || phrase == "change_now"));
    CHECK(before["sides"][side]["remaining_h"]["p05"] <= before["sides"][side]["remaining_h"]["p50"]);
    CHECK(before["sides"][side]["remaining_h"]["p50"] <= before["sides"][side]["remaining_h"]["p95"]);
    CHECK_FALSE(before["sides"][side]["nights"].empty());
  }
  REQUIRE(at.cells() == 24);

  const auto changed =
      at.client.post(at_home + "/cell-changes", {{"at", from_now(-60)},
                                                 {"side", "left"},
                                                 {"reason", "planned"},
                                                 {"cells", {{"profile", "lr6-family"}, {"lot", "A1"}}}});
  REQUIRE(changed.status == 201);
  CHECK(changed.json()["entry"]["kind"] == "cell_change");
  CHECK(changed.json()["entry"]["text"] == "The left cells were changed, as planned, lot A1.");
  CHECK(changed.json()["questions"].empty());
  CHECK(changed.json()["forecast"]["household"] == "h-1");
  CHECK(at.cells() == 22);  // two cells in series

  const auto undone = at.client.post(at_home + "/voids", {{"entry", changed.json()["entry"]["id"]}});
  REQUIRE(undone.status == 201);
  CHECK(at.cells() == 24);
  CHECK(at.forecast()["sides"]["left"]["cells_since"] == before["sides"]["left"]["cells_since"]);
  const auto twice = at.client.post(at_home + "/voids", {{"entry", changed.json()["entry"]["id"]}});
  CHECK(twice.status == 409);
  CHECK(twice.problem() == "already-voided");
}

TEST_CASE("what was used beside changes takes from the stock and from the agency's ledger, and touches no side",
          "[http]") {
  Home at;
  const auto before = at.forecast()["sides"];
  const json torch{{"at", from_now(-60)}, {"item", "cells"}, {"lot", "A1"}, {"quantity", 3}};
  const auto used = at.client.post(at_home + "/uses", torch);
  REQUIRE(used.status == 201);
  CHECK(used.json()["entry"]["kind"] == "use");
  CHECK(used.json()["entry"]["text"] == "Used: 3 cells, lot A1.");
  CHECK(at.cells() == 24 - 3);
  for (const char* side : {"left", "right"}) {
    CHECK(at.forecast()["sides"][side]["cells_since"] == before[side]["cells_since"]);
    CHECK(at.forecast()["sides"][side]["change_by"] == before[side]["change_by"]);
  }
  const auto used_by_the_ledger = [&] { return at.client.get(api + "/stock-ledger").json()["lines"][0]["used"]; };
  CHECK(used_by_the_ledger() == 3);
  CHECK(at.client.post(at_home + "/uses", {{"at", from_now(-60)}, {"item", "cells"}, {"quantity", 0}}).problem() ==
        "out-of-range");
  REQUIRE(at.client.post(at_home + "/voids", {{"entry", used.json()["entry"]["id"]}}).status == 201);
  CHECK(at.cells() == 24);
  CHECK(used_by_the_ledger() == 0);
}

TEST_CASE("a reading moves the forecast, a warning replaces it, a change ends the warning", "[http]") {
  Home at;
  const auto read = at.client.post(at_home + "/readings", {{"at", from_now(-120)}, {"side", "right"}, {"percent", 70}});
  REQUIRE(read.status == 201);
  CHECK(at.forecast()["sides"]["right"]["last_recorded_at"] != nullptr);
  const auto warned =
      at.client.post(at_home + "/readings", {{"at", from_now(-60)}, {"side", "right"}, {"warning", true}});
  REQUIRE(warned.status == 201);
  const auto side = warned.json()["forecast"]["sides"]["right"];
  CHECK(side["phrase"] == "change_now");
  CHECK(side.value("remaining_h", json()) == nullptr);
  CHECK(side.value("nights", json::array()).empty());
  CHECK(side.value("change_by", json()) == nullptr);
  CHECK(side["sentence"].get<std::string>().find("The unit warned at ") == 0);
  CHECK(warned.json()["forecast"]["sides"]["left"]["phrase"] != "change_now");
  at.client.post(
      at_home + "/cell-changes",
      {{"at", from_now(-30)}, {"side", "right"}, {"reason", "warning"}, {"cells", {{"profile", "lr6-family"}}}});
  CHECK(at.forecast()["sides"]["right"]["phrase"] != "change_now");
}

TEST_CASE("the same change from two phones is asked about, and the answer settles it", "[http]") {
  Home at;
  const json change{{"at", from_now(-600)}, {"side", "left"}, {"reason", "planned"}, {"cells", {{"lot", "A1"}}}};
  REQUIRE(at.client.post(at_home + "/cell-changes", change).status == 201);
  const auto since = at.forecast()["sides"]["left"]["cells_since"];
  auto later = change;
  later["at"] = from_now(-300);
  const auto second = at.client.post(at_home + "/cell-changes", later).json();
  REQUIRE(second["questions"].size() == 1);
  CHECK(second["questions"][0]["code"] == "same_change_twice");
  CHECK(at.cells() == 20);                                        // the lower count, until someone answers
  CHECK(at.forecast()["sides"]["left"]["cells_since"] == since);  // and the older set
  const auto answered = at.client.post(at_home + "/answers", {{"entry", second["entry"]["id"]}, {"answer", "same"}});
  REQUIRE(answered.status == 201);
  CHECK(at.cells() == 22);
  const auto listed = at.client.get(at_home + "/entries").json()["entries"];
  CHECK(listed[1]["id"] == second["entry"]["id"]);
  CHECK(listed[1]["voided_by"] == answered.json()["entry"]["id"]);
}

TEST_CASE("what should not have happened is kept: wrong cells, more than the stock, an old change", "[http]") {
  Home at;
  const auto wrong =
      at.client.post(at_home + "/cell-changes", {{"at", from_now(-60)},
                                                 {"side", "left"},
                                                 {"reason", "planned"},
                                                 {"cells", {{"profile", "hr6-rechargeable"}, {"lot", "Z9"}}}});
  REQUIRE(wrong.status == 201);
  CHECK(wrong.json()["questions"][0]["code"] == "wrong_cells");
  CHECK(wrong.json()["forecast"]["sides"]["left"]["phrase"] == "no_forecast");
  CHECK(wrong.json()["forecast"]["sides"]["right"]["phrase"] != "no_forecast");
  const auto cells = at.forecast()["stock"][0];
  CHECK(cells["item"] == "cells");
  CHECK(cells["please_count"] == true);
  const auto old = at.client.post(at_home + "/cell-changes",
                                  {{"at", from_now(-40 * 3600)}, {"side", "right"}, {"from_stock", false}});
  CHECK(old.status == 201);
  CHECK(at.client.get(at_home + "/entries?limit=1").json()["entries"][0]["id"] == old.json()["entry"]["id"]);
}

TEST_CASE("export and forecast hold to the schemas in data/schema", "[http]") {
  Home at;
  at.client.post(at_home + "/readings", {{"at", from_now(-60)}, {"side", "right"}, {"warning", true}});
  at.client.post(at_home + "/stays", {{"from", from_now(86400)}, {"to", from_now(8 * 86400)}});
  at.client.post(at_home + "/paced", {{"side", "left"}, {"from", from_now(-3600)}, {"hours_per_day", 24}});
  for (const std::string name : {"export", "forecast"}) {
    const auto file = name == "export" ? "household" : "forecast";
    std::ifstream stream(std::string(CELLARER_SOURCE_DIR) + "/data/schema/" + file + ".schema.json");
    const auto schema = json::parse(stream);
    const auto faults = schema_faults(schema, schema, at.client.get(at_home + "/" + name).json());
    INFO(json(faults).dump());
    CHECK(faults.empty());
    CHECK_FALSE(schema_faults(schema, schema, json::object()).empty());
  }
}

TEST_CASE("the export gives the same forecast from the command as from the service", "[http]") {
  Home at;
  const auto served = at.forecast();
  const auto exported = at.client.get(at_home + "/export");
  REQUIRE(exported.status == 200);
  const auto alone = forecast_of_export(exported.body, served["as_of"].get<std::string>());
  CHECK(alone["sides"] == served["sides"]);
  CHECK(alone["stock"] == served["stock"]);
}
