// SPDX-License-Identifier: MIT
// When a kept forecast is out of date: after a write, after ten minutes, at the next changing time.
#include "server/api/forecast_cache.hpp"

#include <thread>

#include "server/store/memory_store.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/fake_libraries.hpp"
#include "tests/support/noon.hpp"

namespace {

using namespace cellarer;
using cellarer::testing::noon;
using std::chrono::minutes;

/// Counts what it is asked for.
class CountingForecaster final : public api::Forecaster {
 public:
  api::MadeForecast make(const service::HouseholdRecord& record, Instant as_of) const override {
    ++made;
    std::this_thread::sleep_for(std::chrono::milliseconds(5));  // so that others ask meanwhile
    const auto text = record.reference + " with " + std::to_string(record.life.readings.size()) + " readings";
    return {text, next_changing_time > as_of ? next_changing_time : as_of};
  }
  std::array<std::string, 2> charts(const service::HouseholdRecord& record, Instant as_of) const override {
    ++charted;
    const auto text = std::to_string(record.life.readings.size()) + " readings at " +
                      std::to_string(as_of.time_since_epoch().count());
    return {"left, " + text, "right, " + text};
  }
  nlohmann::json packing(const service::HouseholdRecord&, const service::Stay&, Instant) const override { return {}; }
  std::string side_by_side(const service::HouseholdRecord&, const service::HouseholdRecord&, Instant) const override {
    return {};
  }

  mutable std::atomic<int> made{0}, charted{0};
  Instant next_changing_time = noon + minutes(600);
};

struct CachedHome {
  CachedHome() {
    store->create_household({"h-1", R"({"household":"h-1","zone":"UTC","changing_times":["21:30"]})", "k", noon});
  }
  void read(const char* key) {
    households.record({"h-1", "reading", noon, "", R"({"at":"2026-03-01T11:00:00Z","side":"left","percent":60})", key});
  }
  std::unique_ptr<store::Store> store = store::open_memory_store();
  FakeClock clock{noon};
  cellarer::testing::FakeLibraries libraries;
  CountingForecaster forecaster;
  service::HouseholdService households{*store, clock, libraries};
  api::ForecastCache cache{households, forecaster};
};

}  // namespace

TEST_CASE("a forecast is computed once and kept for ten minutes", "[cache]") {
  CachedHome world;
  CHECK(world.cache.ready("h-1") == nullptr);
  const auto first = world.cache.get("h-1");
  world.clock.advance(minutes(9));
  CHECK(world.cache.get("h-1") == first);
  CHECK(world.cache.ready("h-1") == first);
  CHECK(world.forecaster.made == 1);
  world.clock.advance(minutes(1));
  CHECK(world.cache.ready("h-1") == nullptr);
  CHECK(world.cache.get("h-1")->as_of == noon + minutes(10));
  CHECK(world.forecaster.made == 2);
}

TEST_CASE("a write puts a kept forecast out of date at once", "[cache]") {
  CachedHome world;
  CHECK(*world.cache.get("h-1")->forecast == "h-1 with 0 readings");
  world.read("a");
  CHECK(world.cache.ready("h-1") == nullptr);
  CHECK(*world.cache.get("h-1")->forecast == "h-1 with 1 readings");
}

TEST_CASE("charts are made once somebody asks, as of the forecast that they belong to", "[cache]") {
  CachedHome world;
  const auto charts_at = [](const char* readings, Instant as_of) {
    return "left, " + std::string(readings) + " readings at " + std::to_string(as_of.time_since_epoch().count());
  };
  world.cache.get("h-1");
  CHECK(world.forecaster.charted == 0);
  CHECK(world.cache.ready_charts("h-1") == nullptr);
  world.clock.advance(minutes(4));
  const auto first = world.cache.charts("h-1");
  CHECK(*first->charts[0] == charts_at("0", noon));
  CHECK(world.cache.charts("h-1") == first);
  CHECK(world.cache.ready_charts("h-1") == first);
  CHECK(world.forecaster.charted == 1);
  CHECK(world.forecaster.made == 1);

  world.read("a");
  CHECK(world.cache.ready_charts("h-1") == nullptr);
  CHECK(*world.cache.charts("h-1")->charts[0] == charts_at("1", noon + minutes(4)));
  world.cache.forget("h-1");
  CHECK(world.cache.ready_charts("h-1") == nullptr);
}

TEST_CASE("at the next changing time tonight is another night", "[cache]") {
  CachedHome world;
  world.forecaster.next_changing_time = noon + minutes(3);
  world.cache.get("h-1");
  world.clock.advance(minutes(2));
  CHECK(world.cache.ready("h-1") != nullptr);
  world.clock.advance(minutes(1));
  CHECK(world.cache.ready("h-1") == nullptr);
}

TEST_CASE("a clock that was set back does not keep a forecast of the future", "[cache]") {
  CachedHome world;
  world.cache.get("h-1");
  world.clock.set(noon - minutes(60));
  CHECK(world.cache.ready("h-1") == nullptr);
}

TEST_CASE("many who ask at once get one computation, and a write between is seen", "[cache]") {
  CachedHome world;
  std::vector<std::thread> askers;
  for (int i = 0; i < 8; ++i) askers.emplace_back([&] { world.cache.get("h-1"); });
  world.read("a");
  CHECK(*world.cache.get("h-1")->forecast == "h-1 with 1 readings");
  for (auto& asker : askers) asker.join();
  CHECK(world.forecaster.made <= 3);
}

TEST_CASE("an unknown household is a problem, not a forecast", "[cache]") {
  CachedHome world;
  CHECK_THROWS_AS(world.cache.ready("nobody"), Problem);
  CHECK_THROWS_AS(world.cache.get("nobody"), Problem);
}
