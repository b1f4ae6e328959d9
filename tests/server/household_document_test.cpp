// SPDX-License-Identifier: MIT
// The export: what is read is written again, and what breaks the form is refused at its place.
#include "server/api/household_document.hpp"

#include "model/stock/ledger.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/fake_libraries.hpp"

namespace api = cellarer::api;
namespace life = cellarer::life;
namespace service = cellarer::service;
namespace stock = cellarer::stock;
using cellarer::Instant;
using nlohmann::json;

namespace {

const json example = json::parse(R"({
  "household": "h-000123", "zone": "Europe/Oslo", "changing_times": ["21:30"],
  "units": [{"serial": "u-1", "stimulator": "two-cells", "from": "2026-01-01T09:00:00+01:00"}],
  "settings": [{"from": "2026-01-01T09:00:00+01:00", "side": "left", "rate_per_min": 12, "inspiratory_fraction": 0.28,
                "amplitude": 4.0, "paced": [{"days": ["mon", "sun"], "from": "21:00", "to": "07:00"}]}],
  "cell_changes": [{"at": "2026-01-01T21:30:00+01:00", "recorded_at": "2026-01-02T08:10:00+01:00", "side": "left",
                    "reason": "planned", "cells": {"profile": "lr6-family", "lot": "A1", "expires": "2033-01"}}],
  "readings": [{"at": "2026-01-03T08:00:00+01:00", "side": "left", "percent": 62, "condition": "pacing"},
               {"at": "2026-01-04T08:00:00+01:00", "side": "left", "step": 3, "of": 5},
               {"at": "2026-01-05T08:00:00+01:00", "side": "right", "set_V": 2.61},
               {"at": "2026-01-06T08:00:00+01:00", "side": "right", "warning": true},
               {"at": "2026-01-07T08:00:00+01:00", "side": "left", "stopped": true}],
  "stock": [{"item": "cells", "lot": "A1", "quantity": 24, "expires": "2033-01", "place": "home"}]
})");

const Instant now{std::chrono::seconds(1'772'366'400)};  // 2026-03-01 12:00 UTC
const cellarer::testing::FakeLibraries libraries;

service::HouseholdRecord read(const json& document) {
  return api::read_household(cellarer::json::Field(document, ""), libraries);
}

std::string refused_at(const json& document) {
  try {
    read(document);
  } catch (const cellarer::json::Refused& refused) {
    return refused.place();
  }
  return "not refused";
}

}  // namespace

TEST_CASE("an export is read with every kind of reading and the stock as it stands", "[export]") {
  const auto record = read(example);
  CHECK(record.reference == "h-000123");
  REQUIRE(record.life.readings.size() == 5);
  CHECK(std::get<life::PercentShown>(record.life.readings[0].value).percent == 62);
  CHECK(std::get<life::StepShown>(record.life.readings[1].value).of == 5);
  CHECK(std::get<life::SetVolts>(record.life.readings[2].value).volts == 2.61);
  CHECK(std::holds_alternative<life::WarningSounded>(record.life.readings[3].value));
  CHECK(std::holds_alternative<life::SideStopped>(record.life.readings[4].value));
  // 2026-01-02T08:10:00+01:00
  CHECK(record.life.cell_changes[0].recorded_at ==
        std::chrono::sys_days(std::chrono::year(2026) / 1 / 2) + std::chrono::hours(7) + std::chrono::minutes(10));
  const auto& span = record.life.settings[0].paced[0];
  CHECK(span.weekday == std::array{true, false, false, false, false, false, true});
  const auto kept = stock::stock_after(record.stock, now);
  REQUIRE(kept.lines.size() == 1);
  CHECK(kept.lines[0].quantity == 24);
  CHECK(kept.please_count.empty());
}

TEST_CASE("what is written and read again is written as the same document", "[export]") {
  json full = example;
  full["area"] = "north";
  full["paced_instead"] = {{{"side", "left"}, {"from", "2026-01-10T08:00:00+01:00"}, {"hours_per_day", 24}}};
  full["switched_off"] = {
      {{"side", "right"}, {"from", "2026-01-10T08:00:00+01:00"}, {"to", "2026-01-11T08:00:00+01:00"}}};
  full["stays"] = {{{"from", "2026-01-10T08:00:00+01:00"}, {"to", "2026-01-20T08:00:00+01:00"}, {"zone", "UTC"}}};
  full["readings"].push_back({{"at", "2026-01-08T08:00:00+01:00"}, {"side", "left"}, {"cell_V", {1.2, 1.3}}});
  full["please_count"] = {"cells"};
  const auto once = api::household_document(read(full), now);
  const auto twice = api::household_document(read(once), now);
  CHECK(once == twice);
  CHECK(once["stays"] == full["stays"]);
  CHECK(once["please_count"] == full["please_count"]);
  CHECK(once["stock"] == full["stock"]);
  CHECK(once["paced_instead"] == full["paced_instead"]);
}

TEST_CASE("an answer to 'the same change?' is not lost in the export", "[export]") {
  json document = example;
  auto change = document["cell_changes"][0];
  change["at"] = "2026-01-01T22:30:00+01:00";
  document["cell_changes"].push_back(change);
  CHECK(read(document).life.cell_changes[1].perhaps_the_same);
  document["cell_changes"][1]["perhaps_the_same"] = false;
  CHECK_FALSE(read(document).life.cell_changes[1].perhaps_the_same);
  const auto written = api::household_document(read(document), now);
  CHECK(written["cell_changes"][1]["perhaps_the_same"] == false);
}

TEST_CASE("an inspiratory time is the fraction of the breath that it takes", "[export]") {
  json document = example;
  document["settings"][0].erase("inspiratory_fraction");
  document["settings"][0]["inspiratory_time_s"] = 1.4;
  // f = r Ti / 60 = 12 x 1.4 / 60
  CHECK(read(document).life.settings[0].inspiratory_fraction == Approx(0.28));
}

TEST_CASE("profiles given inside an export are used, and stay inside it", "[export]") {
  json document = example;
  document["profiles"]["cells"] = {{{"id", "lr6-own"}}};
  document["cell_changes"][0]["cells"]["profile"] = "lr6-own";
  const auto record = read(document);
  CHECK(record.life.cell_profiles.count("lr6-own") == 1);
  CHECK(api::household_document(record, now)["profiles"]["cells"][0]["id"] == "lr6-own");
}

TEST_CASE("what breaks the form is refused at its place", "[export]") {
  const auto with = [](const char* pointer, const json& value) {
    json document = example;
    document[json::json_pointer(pointer)] = value;
    return document;
  };
  CHECK(refused_at(json::array()) == "");
  CHECK(refused_at(with("/zone", "Nowhere")) == "/zone");
  CHECK(refused_at(with("/units/0/stimulator", "none")) == "/units/0/stimulator");
  CHECK(refused_at(with("/settings/0/rate_per_min", 0)) == "/settings/0/rate_per_min");
  CHECK(refused_at(with("/readings/1/step", 6)) == "/readings/1/step");
  CHECK(refused_at(with("/readings/0/percent", 162)) == "/readings/0/percent");
  CHECK(refused_at(with("/cell_changes/0/cells/expires", "soon")) == "/cell_changes/0/cells/expires");
  CHECK(refused_at(with("/stock/0/quantity", -1)) == "/stock/0/quantity");
  CHECK(refused_at(with("/readings", "none")) == "/readings");
}
