// SPDX-License-Identifier: MIT
// What an agency's households teach the next one, kept and given to forecasts.
#include "server/service/agency_learning.hpp"

#include "server/api/household_document.hpp"
#include "server/api/model_forecaster.hpp"
#include "server/service/agency_document.hpp"
#include "server/service/household_service.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/fake_libraries.hpp"
#include "tests/support/house.hpp"
#include "tests/support/life_world.hpp"

using namespace cellarer;
using namespace cellarer::testing;

namespace {

struct StoppedClock final : Clock {
  Instant now() const override { return after_h(24 * 60); }
};

/// The life tests' unit and cell, under the ids that the entries name.
class RealProfiles final : public FakeLibraries {
 public:
  std::optional<cell::Profile> cell(const std::string& id) const override {
    auto profile = world_.household.cell_profiles.at("lr6-plain");
    profile.id = id;
    return profile;
  }
  std::optional<duty::Stimulator> stimulator(const std::string& id) const override {
    auto stimulator = world_.household.units.front().stimulator;
    stimulator.id = id;
    return stimulator;
  }

 private:
  World world_;
};

/// Homes of two agencies; those of `north` have had sets whose gauges fell faster than expected.
struct Agencies {
  Agencies() : households(*store, clock, libraries) {
    for (int home = 0; home < 6; ++home) settle("north/h-" + std::to_string(home), 3);
    settle("south/h-0", 0);
  }

  void add(const std::string& home, const char* kind, double hours, nlohmann::json body, const char* time = "at") {
    body[time] = text(after_h(hours));
    store->append({home, kind, after_h(hours), after_h(hours), "", body.dump(), "k" + std::to_string(++keys)});
  }

  void settle(const std::string& home, int sets) {
    store->create_household({home, R"({"household":"h","zone":"Europe/Oslo","changing_times":["21:30"]})", home, noon});
    add(home, kind::unit, -1000, {{"serial", "u-" + home}, {"stimulator", "two-cells"}}, "from");
    for (const char* side : {"left", "right"}) {
      add(home, kind::settings, -1000,
          {{"side", side},
           {"rate_per_min", 12},
           {"inspiratory_fraction", 0.28},
           {"amplitude", 4.0},
           {"paced",
            {{{"days", {"mon", "tue", "wed", "thu", "fri", "sat", "sun"}}, {"from", "21:00"}, {"to", "07:30"}}}}},
          "from");
      for (int set = 0; set <= sets; ++set) {
        const double in = 240.0 * set;
        add(home, kind::cell_change, in,
            {{"side", side}, {"reason", "planned"}, {"cells", {{"profile", "lr6-family"}}}, {"from_stock", false}});
        if (set == sets) break;
        add(home, kind::reading, in + 120, {{"side", side}, {"percent", 50}});
        add(home, kind::reading, in + 200, {{"side", side}, {"percent", 25}});
      }
    }
  }

  std::unique_ptr<store::Store> store = store::open_memory_store();
  RealProfiles libraries;
  StoppedClock clock;
  service::HouseholdService households;
  int keys = 0;
};

}  // namespace

TEST_CASE("what the homes of an agency taught is given to its forecasts, to exports, and after a start") {
  Agencies world;
  const auto before = world.households.snapshot("north/h-0");
  const std::atomic<bool> ending{false};
  REQUIRE(service::learn_agencies(world.households, ending) == 6);

  const auto after = world.households.snapshot("north/h-0");
  const auto kept = service::agency_document(after->record.life.agency);
  REQUIRE(kept != service::agency_document(before->record.life.agency));
  REQUIRE(kept["models"].contains("two-cells"));
  // A home that has told nothing of itself starts there too; another agency's does not.
  REQUIRE(service::agency_document(world.households.snapshot("north/h-5")->record.life.agency) == kept);
  REQUIRE(service::agency_document(world.households.snapshot("south/h-0")->record.life.agency) ==
          service::agency_document({}));

  const auto exported = api::household_document(after->record, world.clock.now());
  REQUIRE(exported["agency"] == kept);
  const auto read = api::read_household(json::Field(exported, ""), world.libraries);
  REQUIRE(service::agency_document(read.life.agency) == kept);

  service::HouseholdService started_anew(*world.store, world.clock, world.libraries);
  REQUIRE(service::agency_document(started_anew.snapshot("north/h-1")->record.life.agency) == kept);
  REQUIRE(world.store->audit("north", std::nullopt, 1).front().action == store::learned_action);
}

TEST_CASE("an agency's few homes say nothing of the next, and a learning that was ended keeps nothing") {
  Agencies world;
  const std::atomic<bool> ending{true};
  REQUIRE(service::learn_agencies(world.households, ending) == 0);
  REQUIRE_FALSE(world.store->newest_learned("north"));
  const std::atomic<bool> going_on{false};
  service::learn_agencies(world.households, going_on);
  REQUIRE_FALSE(world.store->newest_learned("south"));
}

TEST_CASE("a home's forecast with what was kept of its sets is that of a service that has just started") {
  Agencies world;
  const std::string home = "north/h-0";
  const auto forecast = [&](service::HouseholdService& households) {
    return api::ModelForecaster().make(households.snapshot(home)->record, world.clock.now()).forecast;
  };
  const auto agrees = [&] {
    service::HouseholdService started_anew(*world.store, world.clock, world.libraries);
    REQUIRE(forecast(world.households) == forecast(started_anew));
  };
  agrees();
  const auto lessons = world.households.snapshot(home)->record.lessons;
  world.add(home, kind::reading, 240.0 * 3 + 50, {{"side", "left"}, {"percent", 80}});
  agrees();
  world.add(home, kind::cell_change, 240.0 * 4,
            {{"side", "left"}, {"reason", "planned"}, {"cells", {{"profile", "lr6-family"}}}, {"from_stock", false}});
  agrees();
  REQUIRE(world.households.snapshot(home)->record.lessons == lessons);
  world.households.erase(home, "");
  world.settle(home, 3);
  REQUIRE(world.households.snapshot(home)->record.lessons != lessons);
  agrees();
}
