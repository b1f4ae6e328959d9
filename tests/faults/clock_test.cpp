// SPDX-License-Identifier: MIT
// The clock steps back and forward while 16 clients write: every write is taken and is there once; while the clock is
// before the newest entry there is no forecast and readiness falls, and both come back with it.
#include <random>

#include "server/api/forecast_cache.hpp"
#include "server/store/maintenance.hpp"
#include "tests/faults/store_load.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/fake_libraries.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace cellarer;
using namespace cellarer::store;
using namespace cellarer::testing;

namespace {

const Instant before_steps{std::chrono::seconds(1'772'366'400)};  // 2026-03-01 12:00 UTC
constexpr const char* quiet_home = "agency/h-quiet";              // nobody writes there: its forecast can be asked for

struct ForecastOfNothing final : api::Forecaster {
  api::MadeForecast make(const service::HouseholdRecord& record, Instant as_of) const override {
    return {record.reference, as_of};
  }
  std::array<std::string, 2> charts(const service::HouseholdRecord&, Instant) const override { return {}; }
  nlohmann::json packing(const service::HouseholdRecord&, const service::Stay&, Instant) const override { return {}; }
  std::string side_by_side(const service::HouseholdRecord&, const service::HouseholdRecord&, Instant) const override {
    return {};
  }
};

/// The service below HTTP, with a clock that the test moves.
struct Stepped {
  explicit Stepped(Store& store) : households(store, clock, libraries) {
    store.create_household(
        {quiet_home, R"({"household":"h-quiet","zone":"UTC","changing_times":["21:30"]})", "quiet", before_steps});
  }

  /// Readiness and forecasts go together: both are there, or both are refused because of the clock.
  bool answers() {
    const auto refused = [](const auto& ask) {
      try {
        ask();
      } catch (const Problem& problem) {
        return problem.code() == ProblemCode::clock_behind;
      }
      return false;
    };
    const bool ready = !refused([&] { households.require_clock(); });  // what /ready asks
    const bool forecast = !refused([&] { forecasts.get(quiet_home); });
    CHECK(ready == forecast);
    return ready;
  }

  FakeClock clock{before_steps};
  FakeLibraries libraries;
  service::HouseholdService households;
  ForecastOfNothing forecaster;
  api::ForecastCache forecasts{households, forecaster};
};

FaultRow step_clock(int times) {
  std::mt19937 chance(20260305);
  FaultRow row{"clock stepped"};
  const TemporaryFolder folder;
  const auto file = folder.path() / file_name;
  std::set<std::string> acknowledged;
  {
    const auto store = open_sqlite_store(file);
    Stepped service(*store);
    StoreLoad load(*store, [&](const std::string& household, const std::string& name) {
      service.households.record({household, "reading", service.clock.now(), "", name, name});
    });
    for (int i = 0; i < times; ++i) {
      const auto step = std::chrono::hours(1 + chance() % (400 * 24));
      service.clock.advance(step);  // ahead, and something is recorded there
      load.wait_for(20);
      CHECK(service.answers());
      service.clock.advance(-step - std::chrono::hours(1));
      load.wait_for(20);
      CHECK_FALSE(service.answers());
      service.clock.advance(step + std::chrono::hours(2));  // past the newest entry, so it is right again
      CHECK(service.answers());
      ++row.times;
    }
    load.end();
    CHECK(load.refused() == 0);
    acknowledged = load.acknowledged().names();
    compare(row, acknowledged, names_in(*store));
  }
  const auto again = open_sqlite_store(file);
  compare(row, acknowledged, names_in(*again));
  CHECK(check(file).faults == std::vector<std::string>{});
  row.acknowledged = static_cast<std::int64_t>(acknowledged.size());
  print_at_end(row);
  return row;
}

}  // namespace

TEST_CASE("a clock that steps back and forward loses nothing; meanwhile there is no forecast", "[faults][clock]") {
  const auto row = step_clock(20);
  CHECK(row.lost == 0);
  CHECK(row.doubled == 0);
}

TEST_CASE("a clock that steps back and forward loses nothing, tried longer", "[.long][long][faults][clock]") {
  const auto row = step_clock(500);
  CHECK(row.lost == 0);
  CHECK(row.doubled == 0);
}
