// SPDX-License-Identifier: MIT
// Plans as they go over the wire, and what they do to the stock. Dates by hand, Europe/Oslo, UTC+1 in January.
#include "server/api/plan_document.hpp"

#include "server/api/forecast_document.hpp"
#include "server/api/model_forecaster.hpp"
#include "server/reminders/due.hpp"
#include "server/service/fold.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/fake_libraries.hpp"
#include "tests/support/life_world.hpp"

using namespace cellarer;
using namespace std::chrono_literals;
namespace kind = service::kind;
using Json = nlohmann::json;

namespace {

struct Planned {
  testing::World world;  // fresh cells on Mon 5 Jan 2026, 21:30
  service::HouseholdRecord record;

  Planned() {
    record.reference = "h-000123";
    record.zone_name = "Europe/Oslo";
    record.items.push_back({"cells", 4, 5, std::nullopt, std::nullopt});
    record.stock.push_back({world.start - 1h, stock::Happened::counted, {"cells", "A1", 24, std::nullopt, "home"}});
  }
  Json at(Instant as_of) {
    record.life = world.household;
    return Json::parse(api::forecast_document(record, service::household_forecast(record, as_of)));
  }
  void plan(const char* what, const Json& body) { record.plans.push_back({7, what, body}); }
};

}  // namespace

TEST_CASE("a visit moves change by, says so, and uses the stock up earlier") {
  Planned home;
  const auto as_of = home.world.start + 24h;
  const auto usual = home.at(as_of);
  for (unsigned day : {9u, 12u, 15u, 18u, 21u, 24u})
    home.world.household.visits.push_back({Side::left, date::sys_days(date::year(2026) / 1 / day) + 8h});
  home.plan(kind::visit, {{"sides", {"left"}}, {"at", "2026-01-09T09:00:00+01:00"}});
  const auto document = home.at(as_of);
  const auto& left = document["sides"]["left"];
  CHECK(left["change_by"] == "2026-01-08T21:30:00+01:00");
  CHECK(left["change_by_reason"] == "visit");
  CHECK(left["limit"] == "Change by Thu 8 Jan, 21:30, for the visit.");
  CHECK(document["sides"]["right"]["change_by_reason"] == "cells");
  CHECK(document["plans"][0]["text"] == "A visit on Fri 9 Jan, 09:00 wants fresh cells.");
  CHECK(document["plans"][0]["entry"] == 7);
  CHECK(document["plans"][0]["can_end"] == false);
  CHECK(document["stock"][0]["days"]["p50"] < usual["stock"][0]["days"]["p50"]);
}

TEST_CASE("spans that grow use the stock up earlier than spans that stay") {
  Planned home;
  const auto as_of = home.world.start + 24h;
  for (auto& settings : home.world.household.settings)
    settings.paced = {{{true, true, true, true, true, true, true}, 20h, 22h}};
  const auto usual = home.at(as_of);
  for (auto& settings : home.world.household.settings) settings.growth = duty::Growth{as_of, 60min, 14h};
  CHECK(home.at(as_of)["stock"][0]["days"]["p50"] < usual["stock"][0]["days"]["p50"]);
}

TEST_CASE("in hospital every side says so and nothing else, and stock claims no days") {
  Planned home;
  const auto admitted = home.world.start + 16h;  // Tue 6 Jan, 13:30
  home.world.household.hospital.push_back({admitted, {}});
  home.record.hospital.push_back({{admitted, {}}, {}, 9});
  const auto document = home.at(admitted + 1h);
  CHECK(document["in_hospital"] == Json{{"since", "2026-01-06T13:30:00+01:00"}, {"entry", 9}});
  for (const char* side : {"left", "right"}) {
    const auto& one = document["sides"][side];
    CHECK(one["phrase"] == "no_forecast");
    CHECK(one["sentence"] == "No forecast.");
    CHECK(one["limit"] == "In hospital since Tue 6 Jan, 13:30. Say so here when back home.");
    CHECK(one["because"] == Json{"In hospital since Tue 6 Jan, 13:30."});
    CHECK(one["questions"].empty());
    CHECK(one["nights"].empty());
    CHECK(one["change_by"].is_null());
    CHECK(one["change_by_reason"].is_null());
    CHECK(one["to_change"].is_null());
  }
  CHECK(document["stock"][0]["days"].is_null());
  CHECK(document["stock"][0]["order_by"].is_null());
  CHECK(home.at(admitted - 1h)["in_hospital"].is_null());
}

TEST_CASE("in hospital the page still tells of a unit that had warned, and nobody is reminded of anything") {
  // DEVELOPERS.md, 9.3: after a warning, until the next change, that side shows it.
  Planned home;
  const auto warned = home.world.start + 12h, admitted = home.world.start + 16h;
  home.world.read(Side::left, warned, life::WarningSounded{});
  home.world.household.hospital.push_back({admitted, {}});
  home.record.hospital.push_back({{admitted, {}}, {}, 9});
  home.record.items.push_back({"masks", 10, 5, 7, std::nullopt});
  const auto before = home.at(admitted - 1h), document = home.at(admitted + 1h);
  CHECK(document["sides"]["left"]["phrase"] == "change_now");
  CHECK(document["sides"]["left"]["sentence"] == "The unit warned at 09:30. Change the left cells now.");
  CHECK(document["sides"]["right"]["phrase"] == "no_forecast");
  CHECK(document["stock"][1]["order_by"].is_string());
  CHECK(reminders::due_of(before, {}).size() == 3);  // the left side, cells and masks to order
  CHECK(reminders::due_of(document, {}).empty());
}

TEST_CASE("what is paced more is asked about with its entry and in its own words") {
  Planned home;
  const auto fever = home.world.start + 24h;
  home.world.household.paced_more.push_back({Side::left, fever, {}, 24, {}});
  service::PacedMore more;
  more.sides = {Side::left};
  more.from = fever;
  more.hours_per_day = 24;
  more.entry = 41;
  home.record.paced_more.push_back(more);
  home.plan(kind::paced_more, {{"sides", {"left"}}, {"from", "2026-01-06T21:30:00+01:00"}, {"hours_per_day", 24}});
  const auto document = home.at(fever + 73h);
  bool asked = false;
  for (const auto& question : document["sides"]["left"]["questions"]) {
    if (question["code"] != "still_paced_more") continue;
    asked = true;
    CHECK(question["text"] == "Is the left side still paced all day?");
    CHECK(question["entry"] == 41);
  }
  CHECK(asked);
  CHECK(document["plans"][0]["text"] == "Paced all day since Tue 6 Jan.");
  CHECK(document["plans"][0]["can_end"] == true);
}

TEST_CASE("a stay is shown with what to pack until it begins, and times are those of the place") {
  Planned home;
  const auto zone = date::locate_zone("America/New_York");
  const auto from = home.world.start + 24h, to = home.world.start + 24h * 5;
  home.world.household.stays.push_back({from, to, zone, {}});
  home.plan(kind::stay,
            {{"from", "2026-01-06T21:30:00+01:00"}, {"to", "2026-01-10T21:30:00+01:00"}, {"zone", zone->name()}});
  const auto before = home.at(from - 2h);
  CHECK(before["zone_now"] == "Europe/Oslo");
  CHECK(before["plans"][0]["text"] == "Away from Tue 6 Jan to Sat 10 Jan.");
  CHECK(before["plans"][0]["packing"]["cells"].is_number());
  const auto away = home.at(from + 2h);
  CHECK(away["zone_now"] == "America/New_York");
  CHECK_FALSE(away["plans"][0].contains("packing"));
  // 21:30 in New York is 02:30 UTC, the first changing time there
  const auto& night = away["sides"]["left"]["nights"][1];
  CHECK(night["from"] == "2026-01-06T21:30:00-05:00");
  CHECK(night["zone"] == "America/New_York");
  CHECK(night["label"] == "Tu");
}

TEST_CASE("what is over is no plan any more") {
  Planned home;
  home.plan(kind::paced_more, {{"sides", {"left"}},
                               {"from", "2026-01-05T22:00:00+01:00"},
                               {"to", "2026-01-06T22:00:00+01:00"},
                               {"hours_per_day", 24}});
  home.plan(kind::visit, {{"sides", {"left"}}, {"at", "2026-01-06T09:00:00+01:00"}});
  home.plan(kind::unit, {{"serial", "u-1"}, {"stimulator", "plain"}, {"from", "2026-01-01T09:00:00+01:00"}});
  CHECK(home.at(home.world.start + 48h)["plans"].empty());
  home.plan(kind::unit, {{"serial", "u-2"}, {"stimulator", "plain"}, {"from", "2026-01-11T09:00:00+01:00"}});
  CHECK(home.at(home.world.start + 48h)["plans"][0]["text"] == "Unit u-2 from Sun 11 Jan.");
}

TEST_CASE("side by side, the same settings typed in give the same figures; nothing is asked or praised") {
  Planned home;
  const auto as_of = home.world.start + 24h * 3;
  home.record.life = home.world.household;
  auto typed = home.record;
  for (const auto side : {0u, 1u}) {
    auto settings = typed.life.settings[side];
    settings.from = as_of;
    typed.life.settings.push_back(settings);
  }
  const auto both = Json::parse(api::ModelForecaster().side_by_side(home.record, typed, as_of));
  for (const char* side : {"left", "right"}) {
    const auto& recorded = both["as_recorded"]["sides"][side];
    const auto& other = both["as_typed_in"]["sides"][side];
    CHECK(other["remaining_h"] == recorded["remaining_h"]);
    CHECK(other["fresh_set_h"] == recorded["fresh_set_h"]);
    CHECK(other["change_by"] == recorded["change_by"]);
    CHECK(other["questions"].empty());
  }
  // DEVELOPERS.md, 9.7: never suggested, never ranked
  const auto words = both.dump();
  for (const char* ranking : {"better", "worse", "best", "recommend", "suggest", "should", "saves", "prefer"})
    CHECK(words.find(ranking) == std::string::npos);
}

TEST_CASE("side by side, fresh cells typed in last what a fresh set lasts") {
  Planned home;
  const auto as_of = home.world.start + 24h * 3;
  home.record.life = home.world.household;
  auto typed = home.record;
  life::CellChange change;
  change.at = change.recorded_at = as_of;
  change.cells.profile = "lr6-plain";
  typed.life.cell_changes.push_back(change);
  const auto both = Json::parse(api::ModelForecaster().side_by_side(home.record, typed, as_of));
  const auto& left = both["as_typed_in"]["sides"]["left"];
  // the fresh set's own spread of storage and grid apart
  CHECK(left["remaining_h"]["p50"].get<double>() == Approx(left["fresh_set_h"]["p50"].get<double>()).epsilon(0.06));
  CHECK(both["as_typed_in"]["sides"]["right"]["remaining_h"] == both["as_recorded"]["sides"]["right"]["remaining_h"]);
}
