// SPDX-License-Identifier: MIT
// Erasing a household leaves the agency's stock ledger balanced; a clock behind the newest entry stops forecasts alone.
#include "server/api/forecast_cache.hpp"
#include "server/service/stock_ledger.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/house.hpp"

using namespace cellarer;
using namespace cellarer::testing;

namespace {

struct EmptiedAgency {
  EmptiedAgency() {
    for (const char* name : {"h-1", "h-2"}) {
      const nlohmann::json document{{"household", name}, {"zone", "Europe/Oslo"}, {"changing_times", {"21:30"}}};
      store->create_household({std::string("north/") + name, document.dump(), name, noon});
    }
    const nlohmann::json other{{"household", "h-1"}, {"zone", "Europe/Oslo"}, {"changing_times", {"21:30"}}};
    store->create_household({"south/h-1", other.dump(), "south", noon});
    stock("north/h-1", kind::delivery, -50, 24);
    change("north/h-1", -40);
    change("north/h-1", -30);
    stock("north/h-1", kind::stock_count, -20, 17);  // the books say 20
    stock("north/h-1", kind::discard, -10, 1);
    stock("north/h-2", kind::delivery, -50, 8);
    change("north/h-2", -40);
    stock("south/h-1", kind::delivery, -50, 100);
  }

  void add(const std::string& household, const char* what, double hours, const nlohmann::json& body) {
    const auto key = std::to_string(++keys);
    store->append({household, what, after_h(hours), clock.now(), "", body.dump(), key});
  }
  void stock(const std::string& household, const char* what, double hours, int quantity) {
    add(household, what, hours,
        {{"at", text(after_h(hours))}, {"item", "cells"}, {"lot", "A1"}, {"quantity", quantity}});
  }
  void change(const std::string& household, double hours) {
    add(household, kind::cell_change, hours,
        {{"at", text(after_h(hours))},
         {"side", "left"},
         {"reason", "planned"},
         {"cells", {{"profile", "lr6-family"}, {"lot", "A1"}}}});
  }

  LedgerLine line() {
    const auto lines = stock_ledger(households, "north");
    REQUIRE(lines.size() == 1);
    CHECK(lines.front().item == "cells");
    CHECK(lines.front().lot == "A1");
    return lines.front();
  }

  std::unique_ptr<store::Store> store = store::open_memory_store();
  FakeLibraries libraries;
  FakeClock clock{noon};
  HouseholdService households{*store, clock, libraries};
  int keys = 0;
};

void check_balance(const LedgerLine& line) {
  CHECK(line.received == line.used + line.discarded + line.unaccounted + line.in_homes + line.left_with_erased);
}

struct NoForecaster final : api::Forecaster {
  api::MadeForecast make(const HouseholdRecord& record, Instant as_of) const override {
    return {record.reference + " with " + std::to_string(record.life.readings.size()), as_of};
  }
  std::array<std::string, 2> charts(const HouseholdRecord&, Instant) const override { return {}; }
  nlohmann::json packing(const HouseholdRecord&, const Stay&, Instant) const override { return {}; }
  std::string side_by_side(const HouseholdRecord&, const HouseholdRecord&, Instant) const override { return {}; }
};

}  // namespace

TEST_CASE("an agency's stock is received = used + discarded + unaccounted + in homes, before and after an erasure",
          "[erase]") {
  EmptiedAgency agency;
  const auto before = agency.line();
  CHECK(before.received == 24 + 8);
  CHECK(before.used == 3 * 2);
  CHECK(before.discarded == 1);
  CHECK(before.unaccounted == 3);
  CHECK(before.in_homes == 16 + 6);
  CHECK(before.left_with_erased == 0);
  check_balance(before);

  const auto erased = agency.households.erase("north/h-1", "admin");
  CHECK(erased.entries == 5);
  const auto after = agency.line();
  CHECK(after.received == before.received);
  CHECK(after.used == before.used);
  CHECK(after.discarded == before.discarded);
  CHECK(after.unaccounted == before.unaccounted);
  CHECK(after.in_homes == 6);
  CHECK(after.left_with_erased == 16);
  check_balance(after);

  agency.stock("north/h-2", kind::delivery, -5, 4);
  agency.households.erase("north/h-2", "admin");
  const auto end = agency.line();
  CHECK(end.received == 36);
  CHECK(end.in_homes == 0);
  CHECK(end.left_with_erased == 16 + 10);
  check_balance(end);
  CHECK_THROWS_AS(agency.households.erase("north/h-2", "admin"), Problem);
}

TEST_CASE("what was kept of an erased household is not shown for one that comes under its name", "[erase]") {
  EmptiedAgency agency;
  const NoForecaster forecaster;
  api::ForecastCache forecasts(agency.households, forecaster);
  agency.add("north/h-1", kind::reading, -1, {{"at", text(after_h(-1))}, {"side", "left"}, {"percent", 50}});
  REQUIRE(*forecasts.get("north/h-1")->forecast == "h-1 with 1");
  agency.households.erase("north/h-1", "admin");
  forecasts.forget("north/h-1");
  CHECK_THROWS_AS(forecasts.get("north/h-1"), Problem);
  const nlohmann::json document{{"household", "h-1"}, {"zone", "UTC"}, {"changing_times", {"21:30"}}};
  agency.store->create_household({"north/h-1", document.dump(), "again", noon});
  CHECK(*forecasts.get("north/h-1")->forecast == "h-1 with 0");
}

TEST_CASE("a clock before the newest entry: no forecast, until it is right again or the entry is taken back",
          "[clock]") {
  EmptiedAgency agency;
  const NoForecaster forecaster;
  api::ForecastCache forecasts(agency.households, forecaster);
  const auto refused = [&] {
    try {
      forecasts.ready("north/h-1");
      forecasts.get("north/h-1");
    } catch (const Problem& problem) {
      return problem.code() == ProblemCode::clock_behind;
    }
    return false;
  };
  CHECK_FALSE(refused());

  agency.clock.set(noon - std::chrono::hours(1));  // stepped back
  CHECK(refused());
  CHECK_THROWS_AS(agency.households.require_clock(), Problem);
  agency.stock("north/h-1", kind::delivery, -5, 4);  // what happened is recorded all the same
  CHECK(agency.households.snapshot("north/h-1")->last_entry == 6);
  agency.clock.set(noon);  // right again
  CHECK_FALSE(refused());

  agency.clock.set(noon + std::chrono::hours(24 * 365));  // stepped forward, and something was recorded
  agency.stock("north/h-2", kind::discard, -3, 1);
  CHECK_FALSE(refused());
  agency.clock.set(noon + std::chrono::hours(1));
  CHECK(refused());
  const nlohmann::json undo{{"entry", 3}};
  agency.store->append({"north/h-2", kind::undo, agency.clock.now(), agency.clock.now(), "", undo.dump(), "u", 3});
  CHECK_FALSE(refused());
}
