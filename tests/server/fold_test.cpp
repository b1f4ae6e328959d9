// SPDX-License-Identifier: MIT
// Folding entries to a household's record. What is expected is the records section of DEVELOPERS.md.
#include "tests/support/catch.hpp"
#include "tests/support/house.hpp"

using namespace cellarer;
using namespace cellarer::service;
using namespace cellarer::testing;

TEST_CASE("a household without entries has its zone, changing times and terms for cells", "[fold]") {
  const auto record = House().record();
  CHECK(record.reference == "h-1");
  CHECK(record.zone_name == "Europe/Oslo");
  CHECK(record.life.zone->name() == "Europe/Oslo");
  CHECK(record.life.changing_times == std::vector{std::chrono::minutes(21 * 60 + 30)});
  REQUIRE(record.items.size() == 1);
  CHECK(record.items[0].item == "cells");
  REQUIRE(record.life.units.size() == 1);
  CHECK(record.life.unknown_cells.has_value());
}

TEST_CASE("entries take their place in time, whenever they were recorded", "[fold]") {
  House house;
  house.read(10, "left", {{"percent", 60}});
  house.read(5, "left", {{"percent", 70}});
  house.change(30, "left");
  house.change(-30, "left");
  const auto record = house.record();
  CHECK(record.life.readings[0].at == after_h(5));
  CHECK(record.life.readings[1].at == after_h(10));
  CHECK(record.life.cell_changes[0].at == after_h(-30));
}

TEST_CASE("a change uses a set of cells from the lot it names, and a voided one gives it back", "[fold]") {
  House house;
  house.add(kind::stock_count, noon, {{"at", text(noon)}, {"item", "cells"}, {"lot", "A1"}, {"quantity", 8}});
  const auto change = house.change(2, "left", {{"cells", {{"lot", "A1"}}}});
  CHECK(house.cells() == 6);
  house.add(kind::undo, after_h(3), {{"entry", change}}, change);
  CHECK(house.cells() == 8);
  CHECK(house.record().life.cell_changes.empty());
}

TEST_CASE("what was used beside changes takes from the stock, a single cell too, and a voided one gives it back",
          "[fold]") {
  House house;
  house.add(kind::stock_count, noon, {{"at", text(noon)}, {"item", "cells"}, {"lot", "A1"}, {"quantity", 8}});
  const auto used =
      house.add(kind::use, after_h(2), {{"at", text(after_h(2))}, {"item", "cells"}, {"lot", "A1"}, {"quantity", 1}});
  CHECK(house.cells() == 7);
  CHECK(house.record().life.cell_changes.empty());  // no side was changed by it
  house.add(kind::undo, after_h(3), {{"entry", used}}, used);
  CHECK(house.cells() == 8);
}

TEST_CASE("a unit of three cells in series uses three from the time it is in use", "[fold]") {
  House house;
  house.add(kind::stock_count, noon, {{"at", text(noon)}, {"item", "cells"}, {"quantity", 20}});
  house.add(kind::unit, noon, {{"serial", "u-2"}, {"stimulator", "three-cells"}, {"from", text(after_h(50))}});
  house.change(10, "left");
  CHECK(house.cells() == 18);
  house.change(60, "left");
  CHECK(house.cells() == 15);
}

TEST_CASE("cells from elsewhere, and cells that are put back, use no stock", "[fold]") {
  House house;
  house.add(kind::stock_count, noon, {{"at", text(noon)}, {"item", "cells"}, {"quantity", 20}});
  house.change(10, "left", {{"from_stock", false}});
  CHECK(house.cells() == 20);
  house.change(40, "left", {{"cells", {{"set", "s-1"}}}});
  CHECK(house.cells() == 18);
  house.change(80, "right", {{"cells", {{"set", "s-1"}, {"age", "part_used"}}}});
  CHECK(house.cells() == 18);
}

TEST_CASE("a spare is kept and not in use, until it is recorded as in use", "[fold]") {
  House house;
  house.add(kind::unit, noon,
            {{"serial", "u-2"}, {"stimulator", "three-cells"}, {"from", text(noon)}, {"spare", true}});
  CHECK(house.record().units.size() == 2);
  CHECK(house.record().life.units.size() == 1);
  house.add(kind::unit, noon, {{"serial", "u-2"}, {"stimulator", "three-cells"}, {"from", text(after_h(5))}});
  CHECK(house.record().life.units.size() == 2);
  CHECK(house.record().life.units.back().serial == "u-2");
}

TEST_CASE("cells of a name that is not known are in the record without a profile", "[fold]") {
  House house;
  house.change(1, "left", {{"cells", {{"profile", "hr6-rechargeable"}}}});
  house.change(1, "right", {{"cells", {{"profile", "lr6-example"}}}});
  const auto record = house.record();
  CHECK(record.life.cell_profiles.count("lr6-example") == 1);
  CHECK(record.life.cell_profiles.count("hr6-rechargeable") == 0);
  CHECK(record.life.cell_changes[0].cells.profile == "hr6-rechargeable");
}

TEST_CASE("a second change of one side within 12 h is perhaps the same, and uses stock until answered", "[fold]") {
  House house;
  house.add(kind::stock_count, noon, {{"at", text(noon)}, {"item", "cells"}, {"quantity", 20}});
  house.change(1, "left");
  const auto second = house.change(2, "left");
  auto record = house.record();
  CHECK_FALSE(record.life.cell_changes[0].perhaps_the_same);
  CHECK(record.life.cell_changes[1].perhaps_the_same);
  REQUIRE(record.asked_changes.size() == 1);
  CHECK(record.asked_changes[0].entry == second);
  CHECK(house.cells() == 16);

  SECTION("answered as the same, it no longer counts") {
    const auto answer = house.add(kind::answer, after_h(3), {{"entry", second}, {"answer", "same"}});
    CHECK(house.record().life.cell_changes.size() == 1);
    CHECK(house.cells() == 18);
    SECTION("and if the answer is taken back, it is asked again") {
      house.add(kind::undo, after_h(4), {{"entry", answer}}, answer);
      CHECK(house.record().asked_changes.size() == 1);
      CHECK(house.cells() == 16);
    }
  }
  SECTION("answered as different, it is a change like any other") {
    house.add(kind::answer, after_h(3), {{"entry", second}, {"answer", "different"}});
    record = house.record();
    CHECK(record.life.cell_changes.size() == 2);
    CHECK_FALSE(record.life.cell_changes[1].perhaps_the_same);
    CHECK(house.cells() == 16);
  }
}

TEST_CASE("changes are not the same across sides, after 12 h, or after trouble", "[fold]") {
  House house;
  house.change(1, "left");
  SECTION("the other side") { house.change(2, "right"); }
  SECTION("twelve hours later") { house.change(13, "left"); }
  SECTION("a warning between") {
    house.read(1.5, "left", {{"warning", true}});
    house.change(2, "left");
  }
  SECTION("a stop between") {
    house.read(1.5, "left", {{"stopped", true}});
    house.change(2, "left");
  }
  CHECK(house.record().asked_changes.empty());
}

TEST_CASE("two phones that give two reasons are asked all the same, and the older set counts until then", "[fold]") {
  for (const char* reason : {"warning", "ran_out", "fault", "planned", "unknown"}) {
    INFO(reason);
    House house;
    house.add(kind::stock_count, noon, {{"at", text(noon)}, {"item", "cells"}, {"quantity", 20}});
    house.change(1, "left");
    const auto second = house.change(11, "left", {{"reason", reason}});
    const auto record = house.record();
    REQUIRE(record.asked_changes.size() == 1);
    CHECK(record.asked_changes[0].entry == second);
    CHECK_FALSE(record.life.cell_changes[0].perhaps_the_same);
    CHECK(record.life.cell_changes[1].perhaps_the_same);
    CHECK(house.cells() == 16);  // the lower stock counts too
    house.add(kind::answer, after_h(12), {{"entry", second}, {"answer", "different"}});
    CHECK(house.record().asked_changes.empty());
  }
}

TEST_CASE("a warning of the other side, or before both, does not make two changes of one", "[fold]") {
  House house;
  house.read(0.5, "left", {{"warning", true}});
  house.change(1, "left", {{"reason", "warning"}});
  house.read(1.5, "right", {{"warning", true}});
  house.change(2, "left", {{"reason", "warning"}});
  CHECK(house.record().asked_changes.size() == 1);
}
