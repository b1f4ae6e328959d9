// SPDX-License-Identifier: MIT
// Folding plans: what is expected is sections 4.3 (what is planned) and 5 (records) of DEVELOPERS.md.
#include "tests/support/catch.hpp"
#include "tests/support/house.hpp"

using namespace cellarer;
using namespace cellarer::service;
using namespace cellarer::testing;

namespace {

using Json = nlohmann::json;

struct PlannedHouse : House {
  std::int64_t more(double hours, Json body) {
    body.update({{"from", text(after_h(hours))}});
    if (!body.contains("sides")) body["sides"] = {"left", "right"};
    return add(kind::paced_more, after_h(hours), body);
  }
  std::int64_t end(std::int64_t entry, double hours) {
    return add(kind::end, after_h(hours), {{"entry", entry}, {"at", text(after_h(hours))}});
  }
  std::int64_t take_back(std::int64_t entry) { return add(kind::undo, noon, {{"entry", entry}}, entry); }
  std::int64_t admit(double hours) { return add(kind::hospital, after_h(hours), {{"from", text(after_h(hours))}}); }
  std::int64_t back(double hours, Json body) {
    body.update({{"at", text(after_h(hours))}});
    return add(kind::back_home, after_h(hours), body);
  }
};

const Json all_as_before{{"cells", {{"left", {{"are", "as_before"}}}, {"right", {{"are", "as_before"}}}}},
                         {"settings", "as_before"},
                         {"unit", "as_before"},
                         {"unit_used", "yes"}};

}  // namespace

TEST_CASE("more pacing of both sides is one entry; its end is another, and can be taken back", "[fold]") {
  PlannedHouse house;
  const auto fever = house.more(0, {{"hours_per_day", 24}, {"why", "infection"}});
  REQUIRE(house.record().life.paced_more.size() == 2);
  CHECK_FALSE(house.record().life.paced_more[1].to);
  const auto first_end = house.end(fever, 50);
  CHECK(house.record().life.paced_more[0].to == after_h(50));
  house.end(fever, 60);  // a changed mind: the newest holds
  CHECK(house.record().life.paced_more[0].to == after_h(60));
  house.take_back(first_end + 1);
  CHECK(house.record().life.paced_more[0].to == after_h(50));
  house.take_back(first_end);
  CHECK_FALSE(house.record().life.paced_more[0].to);
  house.take_back(fever);
  CHECK(house.record().life.paced_more.empty());
}

TEST_CASE("that more pacing goes on is an answer", "[fold]") {
  PlannedHouse house;
  const auto fever = house.more(0, {{"amplitude", 4.6}, {"sides", {"right"}}});
  const auto said = house.add(kind::answer, after_h(80), {{"entry", fever}, {"answer", "still"}});
  REQUIRE(house.record().life.paced_more.size() == 1);
  CHECK(house.record().life.paced_more[0].still_at == after_h(80));
  house.take_back(said);
  CHECK_FALSE(house.record().life.paced_more[0].still_at);
}

TEST_CASE("a side that was switched off without an end, and a stay, end by an entry too", "[fold]") {
  PlannedHouse house;
  const auto off = house.add(kind::switched_off, noon, {{"side", "left"}, {"from", text(noon)}});
  const auto stay =
      house.add(kind::stay, noon, {{"from", text(noon)}, {"to", text(after_h(200))}, {"zone", "Asia/Tokyo"}});
  house.end(off, 4);
  house.end(stay, 30);
  const auto record = house.record();
  CHECK(record.life.switched_off[0].to == after_h(4));
  CHECK(record.life.stays[0].to == after_h(30));
  CHECK(record.life.stays[0].zone->name() == "Asia/Tokyo");
}

TEST_CASE("a stay that was once kept with a name that is no zone does not lose the household", "[fold]") {
  PlannedHouse house;
  house.add(kind::stay, noon, {{"from", text(noon)}, {"to", text(after_h(200))}, {"zone", "the sea"}});
  CHECK(house.record().life.stays[0].zone == nullptr);
}

TEST_CASE("a visit counts for the sides that it names", "[fold]") {
  PlannedHouse house;
  house.add(kind::visit, after_h(90), {{"sides", {"right"}}, {"at", text(after_h(90))}, {"note", "clinic"}});
  REQUIRE(house.record().life.visits.size() == 1);
  CHECK(house.record().life.visits[0].side == Side::right);
  CHECK(house.record().life.visits[0].at == after_h(90));
}

TEST_CASE("back home with everything as before and the unit in use meanwhile changes nothing", "[fold]") {
  PlannedHouse house;
  house.change(-50, "left");
  house.admit(0);
  const auto before = house.record();
  REQUIRE(before.life.hospital.size() == 1);
  CHECK_FALSE(before.life.hospital[0].to);
  house.back(30, all_as_before);
  const auto record = house.record();
  CHECK(record.life.hospital[0].to == after_h(30));
  CHECK(record.life.cell_changes.size() == 1);
  CHECK(record.life.switched_off.empty());
}

TEST_CASE("a unit that was not used in hospital was switched off there", "[fold]") {
  PlannedHouse house;
  house.change(-50, "left");
  house.admit(0);
  auto unused = all_as_before;
  unused["unit_used"] = "no";
  house.back(30, unused);
  const auto record = house.record();
  REQUIRE(record.life.switched_off.size() == 2);
  CHECK(record.life.switched_off[0].from == after_h(0));
  CHECK(record.life.switched_off[0].to == after_h(30));
  CHECK(record.life.cell_changes.size() == 1);
}

TEST_CASE("nobody knows: cells of unknown age, settings and unit unknown, and no stock used", "[fold]") {
  PlannedHouse house;
  house.add(kind::stock_count, after_h(-60), {{"at", text(after_h(-60))}, {"item", "cells"}, {"quantity", 24}});
  house.change(-50, "left");
  house.admit(0);
  house.back(30, Json::object());
  const auto record = house.record();
  CHECK(record.life.hospital[0].settings == life::SinceHospital::unknown);
  CHECK(record.life.hospital[0].unit == life::SinceHospital::unknown);
  REQUIRE(record.life.cell_changes.size() == 3);
  CHECK(record.life.cell_changes[1].at == after_h(30));
  CHECK(record.life.cell_changes[1].cells.age == life::CellAge::unknown);
  CHECK_FALSE(record.life.cell_changes[1].cells.profile);
  CHECK(house.cells() == 22);
}

TEST_CASE("the same cells, used nobody knows how much, are of unknown age", "[fold]") {
  PlannedHouse house;
  house.change(-50, "left", {{"cells", {{"profile", "lr6-example"}, {"lot", "A1"}}}});
  house.admit(0);
  auto unknown_use = all_as_before;
  unknown_use.erase("unit_used");
  house.back(30, unknown_use);
  const auto record = house.record();
  REQUIRE(record.life.cell_changes.size() == 2);  // of the right side nobody recorded any cells
  CHECK(record.life.cell_changes[1].cells.lot == "A1");
  CHECK(record.life.cell_changes[1].cells.age == life::CellAge::unknown);
}

TEST_CASE("fresh cells after coming home are a change of their own, however soon", "[fold]") {
  PlannedHouse house;
  house.admit(0);
  house.back(30, Json::object());
  house.change(36, "left");
  const auto record = house.record();
  CHECK(record.asked_changes.empty());
  CHECK_FALSE(record.life.cell_changes.back().perhaps_the_same);
}

TEST_CASE("fresh cells from hospital are a change, asked about where somebody recorded it too", "[fold]") {
  PlannedHouse house;
  house.admit(0);
  house.change(28, "left");
  auto fresh = all_as_before;
  fresh["cells"]["left"] = {{"are", "fresh"}, {"profile", "lr6-example"}};
  const auto back = house.back(30, fresh);
  REQUIRE(house.record().asked_changes.size() == 1);
  CHECK(house.record().asked_changes[0].entry == back);
  house.add(kind::answer, after_h(31), {{"entry", back}, {"answer", "same"}});
  const auto record = house.record();
  CHECK(record.asked_changes.empty());
  CHECK(record.life.cell_changes.size() == 1);
  CHECK(record.life.hospital[0].to == after_h(30));  // the rest of what was said stands
}

TEST_CASE("an admission recorded late takes its place, one taken back was none, a return without one is kept",
          "[fold]") {
  PlannedHouse house;
  house.back(30, all_as_before);
  REQUIRE(house.record().life.hospital.size() == 1);
  CHECK(house.record().life.hospital[0].to == after_h(30));
  const auto late = house.admit(5);
  CHECK(house.record().life.hospital[0].from == after_h(5));
  CHECK(house.record().life.hospital.size() == 1);
  house.admit(20);  // already there
  CHECK(house.record().life.hospital.size() == 1);
  house.admit(90);  // again
  const auto record = house.record();
  REQUIRE(record.life.hospital.size() == 2);
  CHECK(record.life.hospital[1].from == after_h(90));
  CHECK_FALSE(record.life.hospital[1].to);
  house.take_back(late);
  CHECK(house.record().life.hospital[0].from == after_h(20));
}

TEST_CASE("settings that grow are kept with their growth", "[fold]") {
  PlannedHouse house;
  house.add(kind::settings, noon,
            Json::parse(R"({"from": "2026-03-02T09:00:00+01:00", "side": "left", "rate_per_min": 12,
    "inspiratory_fraction": 0.28, "amplitude": 4.0, "paced": [{"days": ["mon"], "from": "20:00", "to": "21:00"}],
    "growth": {"minutes_per_week": 60, "up_to_hours": 14}})"));
  const auto record = house.record();
  REQUIRE(record.life.settings.size() == 1);
  CHECK(record.life.settings[0].growth->since == record.life.settings[0].from);
  CHECK(record.life.settings[0].growth->a_week == std::chrono::minutes(60));
  CHECK(record.life.settings[0].growth->up_to_per_day == std::chrono::hours(14));
}

TEST_CASE("an end with which a stay could not be read does not count: an older store may hold one", "[fold]") {
  PlannedHouse house;
  const auto stay = house.add(kind::stay, after_h(0), {{"from", text(after_h(0))}, {"to", text(after_h(240))}});
  house.end(stay, 500.0 * 24);
  REQUIRE(house.record().stays.size() == 1);
  CHECK(house.record().stays[0].to == after_h(240));
  house.end(stay, 100);  // one that fits does
  CHECK(house.record().stays[0].to == after_h(100));
}
