// SPDX-License-Identifier: MIT
// A recalled lot in a side and on the shelf: "change at the next changing time; this lot is recalled", and nothing of
// it usable (the planner's desk, lots). Dates by hand, Europe/Oslo, UTC+1 in January; fresh cells on Mon 5 Jan 2026,
// 21:30, one changing time a day.
#include "server/service/recalls.hpp"

#include "server/api/forecast_document.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/life_world.hpp"

using namespace cellarer;
using namespace std::chrono_literals;
using Json = nlohmann::ordered_json;

namespace {

struct Recalled {
  testing::World world;
  service::HouseholdRecord record;

  Recalled() {
    world.household.cell_changes[0].cells.lot = "B7";
    world.household.cell_changes[1].cells.lot = "C1";
    record.reference = "h-000123";
    record.zone_name = "Europe/Oslo";
    record.items.push_back({"cells", 4, 5, std::nullopt, std::nullopt});
    stock("B7", 12, 2030);
    stock("C1", 8, 2032);
  }
  void stock(const char* lot, int pieces, int year) {
    record.stock.push_back(
        {world.start - 1h, stock::Happened::counted, {"cells", lot, pieces, std::chrono::year(year) / 1}});
  }
  void recall(Instant since) { record.recalled_lots.push_back({"cells", "B7", since}); }
  service::ForecastAnswer at(Instant as_of) {
    record.life = world.household;
    return service::household_forecast(record, as_of);
  }
  Json told(Instant as_of) {
    const auto answer = at(as_of);
    return Json::parse(api::forecast_document(record, answer));
  }
};

}  // namespace

TEST_CASE("a side that holds a recalled lot is to be changed at the first changing time after the recall", "[recall]") {
  Recalled home;
  const auto as_of = home.world.start + 38h;  // Wed 7 Jan, 11:30
  const auto before = home.at(as_of);
  home.recall(home.world.start + 37h);
  const auto answer = home.at(as_of);
  const auto& left = answer.life.side(Side::left);
  CHECK(left.change_by == home.world.start + 48h);
  CHECK(left.phrase == life::Phrase::change_before_tonight);
  CHECK(left.because.front() == "Lot B7 was recalled on Wed 7 Jan.");
  // Its hours are what they were, and the other side is what it was.
  CHECK(left.remaining_h->p50 == before.life.side(Side::left).remaining_h->p50);
  CHECK(answer.life.side(Side::right).change_by == before.life.side(Side::right).change_by);
  CHECK_FALSE(answer.recalled[1]);
  const auto told = home.told(as_of)["sides"]["left"];
  CHECK(told["sentence"] == "Change before tonight.");
  CHECK(told["limit"] == "Change at the next changing time, 21:30 today; this lot is recalled.");
  CHECK(told["change_by_reason"] == "recall");
  CHECK(told["recalled"]["lot"] == "B7");
  CHECK(told["to_change"]["lot"] == "C1");
}

TEST_CASE("the date of a recall stays when it has passed: was it changed?", "[recall]") {
  Recalled home;
  home.recall(home.world.start + 37h);
  const auto told = home.told(home.world.start + 60h)["sides"]["left"];
  CHECK(told["phrase"] == "change_now");
  CHECK(told["limit"] ==
        "This lot is recalled. Change by was 21:30 yesterday. No change of the left cells recorded: was it changed?");
  int asked = 0;
  for (const auto& question : told["questions"]) asked += question["code"] == "was_it_changed" ? 1 : 0;
  CHECK(asked == 1);
}

TEST_CASE("recalled cells that go in after the recall are to come out at the next time; others end it", "[recall]") {
  Recalled home;
  home.recall(home.world.start - 24h);
  CHECK(home.at(home.world.start + 1h).life.side(Side::left).change_by == home.world.start + 24h);
  home.world.change(Side::left, home.world.start + 24h).cells.lot = "D2";
  CHECK_FALSE(home.at(home.world.start + 25h).recalled[0]);
}

TEST_CASE("a recall moves nothing later, is not known before it was made, and never hides the unit's word",
          "[recall]") {
  Recalled home;
  home.recall(home.world.start + 37h);
  CHECK_FALSE(home.at(home.world.start + 36h).recalled[0]);
  Recalled late;
  const auto due = *late.at(home.world.start + 1h).life.side(Side::left).change_by;
  late.recall(due - 1h);
  const auto answer = late.at(due - 30min);
  CHECK(answer.life.side(Side::left).change_by == due);
  CHECK_FALSE(answer.recalled[0]->sets_change_by);
  home.world.read(Side::left, home.world.start + 40h, life::WarningSounded{});
  const auto warned = home.told(home.world.start + 41h)["sides"]["left"];
  CHECK(warned["phrase"] == "change_now");
  CHECK(warned["change_by"].is_null());
  CHECK(warned["limit"] == "The unit's own alarm comes before any forecast.");
}

TEST_CASE("without a forecast the recall is said all the same", "[recall]") {
  Recalled home;
  home.world.household.units.clear();
  home.recall(home.world.start + 1h);
  const auto told = home.told(home.world.start + 2h)["sides"]["left"];
  CHECK(told["phrase"] == "no_forecast");
  CHECK(told["limit"].get<std::string>().starts_with(
      "Change at the next changing time, 21:30 tomorrow; this lot is recalled. No unit is recorded"));
}

TEST_CASE("a recalled lot is neither usable, nor taken first, nor packed, and is told beside", "[recall]") {
  Recalled home;
  home.recall(home.world.start + 37h);
  const auto as_of = home.world.start + 38h;
  const auto answer = home.at(as_of);
  const auto& cells = answer.stock.front();
  CHECK(cells.usable == 8);
  REQUIRE(cells.lines.size() == 1);
  CHECK(cells.lines[0].lot == "C1");
  REQUIRE(answer.recalled_lines.size() == 1);
  CHECK(answer.recalled_lines[0].quantity == 12);
  const auto told = home.told(as_of)["stock"][0];
  CHECK(told["recalled"] == 12);
  CHECK(told["lots"][1]["recalled"] == true);
  CHECK(told["limit"].get<std::string>().ends_with(" 12 of a recalled lot: set them apart."));
  for (const auto& item : service::packing_for(home.record, {as_of, as_of + 24h * 9, std::nullopt}, answer)) {
    for (const auto& line : item.take) CHECK(line.lot == "C1");
  }
}
