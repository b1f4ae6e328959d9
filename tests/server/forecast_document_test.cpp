// SPDX-License-Identifier: MIT
// The household's forecast as it goes over the wire: its form, its words, and what it never says.
#include "server/api/forecast_document.hpp"

#include <algorithm>
#include <set>

#include "server/api/sentences.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/life_world.hpp"

using namespace cellarer;
using namespace std::chrono_literals;

namespace {

struct Home {
  testing::World world;
  std::vector<stock::Event> stock;

  void count(int how_many, const char* lot, std::chrono::year_month expires) {
    stock.push_back({world.start - 1h, stock::Happened::counted, {"cells", lot, how_many, expires, "hall cupboard"}});
  }

  nlohmann::ordered_json at(Instant as_of) const {
    service::HouseholdRecord record;
    record.reference = "h-000123";
    record.zone_name = "Europe/Oslo";
    record.life = world.household;
    record.stock = stock;
    record.items.push_back({"cells", 4, 5, std::nullopt, std::nullopt});
    return nlohmann::ordered_json::parse(api::forecast_document(record, service::household_forecast(record, as_of)));
  }
};

}  // namespace

TEST_CASE("a forecast has the members of its form, and nulls where there is nothing to say") {
  // DEVELOPERS.md, section 7: a forecast.
  const Home home;
  const auto document = home.at(home.world.start + 1h);
  for (const char* name : {"household", "as_of", "sides", "stock", "cautions"}) REQUIRE(document.contains(name));
  for (const char* side : {"left", "right"}) {
    const auto& one = document["sides"][side];
    for (const char* name : {"phrase", "because", "remaining_h", "warning_at", "cutoff_at", "change_by",
                             "no_later_than", "nights", "last_recorded_at"}) {
      REQUIRE(one.contains(name));
    }
    REQUIRE(one["remaining_h"]["p05"] <= one["remaining_h"]["p50"]);
    REQUIRE(one["remaining_h"]["p50"] <= one["remaining_h"]["p95"]);
  }
  REQUIRE(document["as_of"] == "2026-01-05T22:30:00+01:00");
}

TEST_CASE("a forecast tells how the clocks of its zone stand, across daylight saving") {
  // Directive 2000/84/EC: from 01:00 UTC on the last Sunday of March to 01:00 UTC on the last Sunday of October.
  const auto told =
      api::clocks_document(date::locate_zone("Europe/Oslo"), Instant(date::sys_days(date::year(2026) / 11 / 24)));
  REQUIRE(told.size() == 4);
  CHECK(told[0]["from"] == "2026-05-08T00:00:00Z");
  CHECK(told[0]["offset_min"] == 120);
  CHECK(told[1]["from"] == "2026-10-25T01:00:00Z");
  CHECK(told[1]["offset_min"] == 60);
  CHECK(told[2]["from"] == "2027-03-28T01:00:00Z");
  CHECK(told[3]["from"] == "2027-10-31T01:00:00Z");
  for (std::size_t i = 1; i < told.size(); ++i) CHECK(told[i]["from"] == told[i - 1]["to"]);
  CHECK(told[3]["to"] == "2027-12-29T00:00:00Z");
  const auto kolkata =
      api::clocks_document(date::locate_zone("Asia/Kolkata"), Instant(date::sys_days(date::year(2026) / 1 / 1)));
  REQUIRE(kolkata.size() == 1);
  CHECK(kolkata[0]["offset_min"] == 330);  // no daylight saving there
  CHECK(Home().at(Home().world.start + 1h)["clocks"][0]["offset_min"] == 120);
}

TEST_CASE("the estimate's sentence stands in every forecast, whatever it says") {
  // DEVELOPERS.md, 9.1.
  Home home;
  REQUIRE(home.at(home.world.start + 1h)["disclaimer"] ==
          "An estimate. The unit's own alarm comes first: act on it at once.");
  home.world.household.units.clear();
  const auto none = home.at(home.world.start + 1h);
  REQUIRE(none["disclaimer"] == "An estimate. The unit's own alarm comes first: act on it at once.");
  REQUIRE(none["sides"]["left"]["sentence"] == "No forecast.");
  REQUIRE(none["sides"]["left"]["limit"].get<std::string>().ends_with("In doubt: fresh cells in both sides."));
}

TEST_CASE("of a night both sides are told together: no less than either, no more than their sum") {
  // Fréchet's bounds of a union.
  Home home;
  const auto document = home.at(home.world.start + 24h * 9);
  const auto& left = document["sides"]["left"]["nights"];
  const auto& right = document["sides"]["right"]["nights"];
  REQUIRE(document["either_side"].size() == left.size());
  for (std::size_t i = 0; i < left.size(); ++i) {
    const double both = document["either_side"][i]["risk_at_most"], l = left[i]["risk"], r = right[i]["risk"];
    REQUIRE(both >= std::max(l, r));
    REQUIRE(both <= l + r);
    REQUIRE(document["either_side"][i]["tonight"] == left[i]["tonight"]);
  }
  home.world.read(Side::left, home.world.start + 24h * 9, life::WarningSounded{});
  REQUIRE(home.at(home.world.start + 24h * 9)["either_side"].is_null());
}

TEST_CASE("after a warning the side says that and nothing of time") {
  // DEVELOPERS.md, 9.3.
  Home home;
  home.world.read(Side::left, home.world.start + 24h * 2 + 5h + 40min, life::WarningSounded{});
  const auto left = home.at(home.world.start + 24h * 2 + 6h)["sides"]["left"];
  REQUIRE(left["sentence"] == "The unit warned at 03:10. Change the left cells now.");
  REQUIRE(left["phrase"] == "change_now");
  REQUIRE(left["nights"].empty());
  for (const char* name : {"remaining_h", "warning_at", "cutoff_at", "change_by", "no_later_than"})
    REQUIRE(left[name].is_null());
}

TEST_CASE("the coming changes begin with the date to act by, stand at changing times, and are likely alone") {
  Home home;
  const auto told = home.at(home.world.start + 1h);
  for (const char* side : {"left", "right"}) {
    INFO(side);
    const auto& changes = told["sides"][side]["coming_changes"];
    // Sets of twelve days at most: no fewer than three in six weeks, of which four are told.
    REQUIRE(changes.size() >= 3);
    REQUIRE(changes.size() <= 4);
    CHECK(changes[0]["at"] == told["sides"][side]["change_by"]);
    CHECK(changes[0]["latest"] == changes[0]["at"].get<std::string>().substr(0, 10));  // never later than its date
    for (std::size_t k = 0; k < changes.size(); ++k) {
      const auto at = changes[k]["at"].get<std::string>();
      CHECK(at.ends_with("T21:30:00+01:00"));
      CHECK(changes[k]["earliest"] <= at.substr(0, 10));
      CHECK(at.substr(0, 10) <= changes[k]["latest"]);
      if (k > 0) CHECK(changes[k - 1]["at"] < changes[k]["at"]);
    }
  }
  CHECK(home.at(home.world.start + 1h).dump() == told.dump());
}

TEST_CASE("a visit that wants fresh cells is among the coming changes, on its evening") {
  Home home;
  const auto without = home.at(home.world.start + 1h)["sides"];
  const Instant visit = home.world.start + 24h * 16 + 14h;  // 22 January, 11:30
  home.world.household.visits.push_back({Side::left, visit});
  const auto with = home.at(home.world.start + 1h)["sides"];
  CHECK(with["right"]["coming_changes"] == without["right"]["coming_changes"]);
  CHECK(with["left"]["coming_changes"][0] == without["left"]["coming_changes"][0]);
  const auto& changes = with["left"]["coming_changes"];
  const nlohmann::ordered_json evening{
      {"at", "2026-01-21T21:30:00+01:00"}, {"earliest", "2026-01-21"}, {"latest", "2026-01-21"}};
  CHECK(std::find(changes.begin(), changes.end(), evening) != changes.end());
  CHECK(std::find(without["left"]["coming_changes"].begin(), without["left"]["coming_changes"].end(), evening) ==
        without["left"]["coming_changes"].end());
}

TEST_CASE("no coming change is told after a warning, once the date has passed, or without a forecast") {
  // DEVELOPERS.md, 9.3: after a warning no time; 9.4: with nothing recorded never the next date.
  Home home;
  const auto left_at = [&](Instant as_of) { return home.at(as_of)["sides"]["left"]["coming_changes"]; };
  const Instant due = *home.world.left(home.world.start + 1h).change_by;
  CHECK_FALSE(left_at(due - 1h).empty());
  CHECK(left_at(due + 1h).empty());
  home.world.read(Side::left, home.world.start + 24h * 2 + 5h + 40min, life::WarningSounded{});
  CHECK(left_at(home.world.start + 24h * 2 + 6h).empty());
  CHECK_FALSE(home.at(home.world.start + 24h * 2 + 6h)["sides"]["right"]["coming_changes"].empty());
  home.world.household.settings.clear();
  CHECK(left_at(home.world.start + 1h).empty());
}

TEST_CASE("a side that is due says until when, how many cells, of which lot and from where") {
  Home home;
  home.count(12, "B7", std::chrono::year(2033) / 6);
  home.count(6, "A1", std::chrono::year(2031) / 2);
  const auto due = home.world.left(home.world.start + 1h).change_by;
  const auto left = home.at(*due - 1h)["sides"]["left"];
  REQUIRE(left["sentence"] == "Change before tonight.");
  REQUIRE(left["limit"] == "By 21:30 today.");
  REQUIRE(left["to_change"]["cells"] == 2);
  REQUIRE(left["to_change"]["lot"] == "A1");  // first expired, first out
  REQUIRE(left["to_change"]["place"] == "hall cupboard");
}

TEST_CASE("stock is said in days, and as unknown where no side has a forecast") {
  Home home;
  home.count(12, "B7", std::chrono::year(2033) / 6);
  const auto known = home.at(home.world.start + 1h)["stock"][0];
  REQUIRE(known["item"] == "cells");
  REQUIRE(known["quantity"] == 12);
  REQUIRE(known["days"]["p05"] <= known["days"]["p95"]);
  REQUIRE(known["sentence"].get<std::string>().starts_with("Enough for "));
  home.world.household.settings.clear();
  const auto unknown = home.at(home.world.start + 1h)["stock"][0];
  REQUIRE(unknown["days"].is_null());
  REQUIRE(unknown["sentence"] == "How long this lasts is not known.");
  REQUIRE(unknown["limit"] == "12 cells.");
}

TEST_CASE("no sentence of a forecast claims that a side is working") {
  // DEVELOPERS.md, section 8: never "safe", "good", "OK"; section 1: never that a side is working.
  Home home;
  home.count(3, "B7", std::chrono::year(2033) / 6);
  home.world.read(Side::right, home.world.start + 24h, life::PercentShown{20});
  home.world.read(Side::left, home.world.start + 24h, life::PercentShown{100});
  const std::set<std::string> never{"safe", "good", "ok", "fine", "working", "healthy"};
  for (int day = 0; day < 16; day += 3) {
    auto text = home.at(home.world.start + 24h * day + 25h).dump();
    std::string word;
    for (const char c : text + " ") {
      if (std::isalpha(static_cast<unsigned char>(c)) != 0)
        word += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
      else {
        REQUIRE(never.count(word) == 0);
        word.clear();
      }
    }
  }
}

TEST_CASE("times are said as people say them: today, tomorrow, yesterday, or the day") {
  const auto zone = date::locate_zone("Europe/Oslo");
  const Instant as_of = date::sys_days(date::year(2026) / 11 / 24) + 19h + 40min;  // Tuesday 20:40 in Oslo
  REQUIRE(api::when_text(as_of + 50min, as_of, zone) == "21:30 today");
  REQUIRE(api::when_text(as_of + 24h + 50min, as_of, zone) == "21:30 tomorrow");
  REQUIRE(api::when_text(as_of - 23h - 10min, as_of, zone) == "21:30 yesterday");
  REQUIRE(api::when_text(as_of + 72h + 50min, as_of, zone) == "Fri 27 Nov, 21:30");
}
