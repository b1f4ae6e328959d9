// SPDX-License-Identifier: MIT
#pragma once
#include "server/service/household_service.hpp"
#include "tests/support/fake_libraries.hpp"
#include "tests/support/house.hpp"
#include "tests/support/life_world.hpp"

/// Agencies in memory whose homes have sets with readings, for tests of the technician's bench. Figures are invented.
namespace cellarer::testing {

/// The life tests' unit and cell, under whatever ids the entries name.
class PlainProfiles : public FakeLibraries {
 public:
  std::optional<cell::Profile> cell(const std::string& id) const override {
    if (id != "lr6-family" && id != "lr6-example") return std::nullopt;
    auto profile = world_.household.cell_profiles.at("lr6-plain");
    profile.id = id;
    return profile;
  }
  std::optional<duty::Stimulator> stimulator(const std::string& id) const override {
    if (!FakeLibraries::stimulator(id)) return std::nullopt;
    auto stimulator = world_.household.units.front().stimulator;
    stimulator.id = id;
    return stimulator;
  }
  /// A cell that lasts longer, so that a test sees which one is in force.
  cell::Profile fit(const nlohmann::json& cell_file, const std::string& place) const override {
    auto profile = world_.household.cell_profiles.at("lr6-plain");
    profile.id = json::Field(cell_file, place)["id"].text(80);
    const double holds = cell_file.value("holds", 1.0);
    profile.curve = plain_cell_of(holds);
    return profile;
  }

  static cell::Curve plain_cell_of(double holds) {
    const auto plain = plain_cell();
    cell::Curve::Table open{}, slow{}, fast{};
    for (std::size_t i = 0; i < cell::Curve::points; ++i) {
      const double x = static_cast<double>(i) / (cell::Curve::points - 1);
      open[i] = plain.curve.open_circuit_V(x);
      slow[i] = plain.curve.slow_ohm(x);
      fast[i] = plain.curve.fast_ohm(x);
    }
    return cell::Curve(2800 * holds, open, slow, fast);
  }

 private:
  World world_;
};

struct BenchWorld {
  /// After so long the gauge is expected at about 40 %.
  static constexpr double set_h = 195;

  void add(const std::string& home, const char* kind, double hours, nlohmann::json body, const char* time = "at") {
    body[time] = text(after_h(hours));
    store->append({home, kind, after_h(hours), after_h(hours), "", body.dump(), "k" + std::to_string(++keys)});
  }

  /// A home with a unit and settings, no cells yet.
  void settle(const std::string& home, const std::string& serial) {
    store->create_household({home, R"({"household":"h","zone":"Europe/Oslo","changing_times":["21:30"]})", home, noon});
    add(home, kind::unit, -1000, {{"serial", serial}, {"stimulator", "two-cells"}}, "from");
    for (const char* side : {"left", "right"}) {
      add(home, kind::settings, -1000,
          {{"side", side},
           {"rate_per_min", 12},
           {"inspiratory_fraction", 0.28},
           {"amplitude", 4.0},
           {"paced",
            {{{"days", {"mon", "tue", "wed", "thu", "fri", "sat", "sun"}}, {"from", "21:00"}, {"to", "07:30"}}}}},
          "from");
    }
  }

  /// Sets of a side, one after the other from the hour on; the gauge is read before each comes out. One more goes in.
  void sets(const std::string& home, const char* side, double from_h, const std::vector<double>& percent_at_removal) {
    double in = from_h;
    for (std::size_t i = 0; i <= percent_at_removal.size(); ++i) {
      add(home, kind::cell_change, in,
          {{"side", side},
           {"reason", "planned"},
           {"cells", {{"profile", "lr6-family"}, {"lot", "lot-1"}}},
           {"from_stock", false}});
      if (i == percent_at_removal.size()) break;
      add(home, kind::reading, in + set_h - 2, {{"side", side}, {"percent", percent_at_removal[i]}});
      in += set_h;
    }
  }

  std::unique_ptr<store::Store> store = store::open_memory_store();
  PlainProfiles libraries;
  FakeClock clock{after_h(400 * 24)};
  service::HouseholdService households{*store, clock, libraries};
  int keys = 0;
};

/// Ten sets about 40 %, then so many lower by `drop`.
inline std::vector<double> gauge_that_drops(int later, double drop) {
  std::vector<double> percents;
  for (int i = 0; i < 10 + later; ++i) percents.push_back((i % 2 == 0 ? 41 : 39) - (i < 10 ? 0 : drop));
  return percents;
}

}  // namespace cellarer::testing
