// SPDX-License-Identifier: MIT
// Pooling, tried in the world that is not our model: the spread that the world's homes were drawn from is the figure to
// be found. Invented homes.
#include "model/life/pooling.hpp"

#include "model/life/lessons.hpp"
#include "tests/bench/ours.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace std::chrono_literals;

namespace {

/// Keeps what people record, and leaves the deciding to another.
class Notebook : public bench::Forecaster {
 public:
  Notebook(const life::Household& first_day, std::vector<life::Household>& finished)
      : household_(first_day), finished_(finished) {
    household_.agency = {};
  }
  ~Notebook() override { finished_.push_back(household_); }
  Notebook(const Notebook&) = delete;
  Notebook& operator=(const Notebook&) = delete;

  void recorded(const life::CellChange& change) override { household_.cell_changes.push_back(change); }
  void recorded(const life::Reading& reading) override { household_.readings.push_back(reading); }
  void recorded(const duty::Settings& settings) override { household_.settings.push_back(settings); }
  void recorded(const duty::PacedInstead& instead) override { household_.paced_instead.push_back(instead); }
  void recorded(const life::UnitInUse& unit) override { household_.units.push_back(unit); }
  bool advises_change(Side, Instant) override { return false; }
  double probability_by(Side, Instant, Instant) override { return 0; }

 private:
  life::Household household_;
  std::vector<life::Household>& finished_;
};

class NoScore : public bench::Observer {
 public:
  void evening(const bench::Evening&) override {}
  void set_ended(const bench::SetEnded&) override {}
  void warned(const bench::Warned&) override {}
};

life::AgencyKnowledge pooled_from_homes_that_differ_by(double household_log_sd) {
  auto spec = bench::reference_world();
  spec.nights = 120;
  spec.use.household_log_sd = household_log_sd;
  const bench::World world(spec, std::string(CELLARER_SOURCE_DIR) + "/data/cells");
  std::vector<life::Household> finished;
  const std::vector<bench::MakeForecaster> told{
      [&](const life::Household& first_day) { return std::make_unique<Notebook>(first_day, finished); }};
  NoScore nobody;
  for (std::size_t home = 0; home < 60; ++home)
    bench::simulate(world, 77, home, bench::our_forecaster({}), told, nobody);
  std::vector<life::Evidence> evidence;
  const Instant end = world.first_evening() + 24h * spec.nights;
  for (const auto& household : finished) {
    life::LoadTables tables;
    evidence.push_back(
        life::learn_from(household,
                         {life::stints(household, Side::left, end), life::stints(household, Side::right, end)}, tables)
            .evidence());
  }
  return life::pool(evidence, {});
}

}  // namespace

TEST_CASE("pooled over sixty homes, the spread between homes is found again") {
  // Of the world itself: 3 % and 12 %, against 5 % assumed. A spread estimated from 60 homes has a standard error of
  // 9 % of itself; the ten assumed homes pull it a little to 5 %.
  const auto alike = pooled_from_homes_that_differ_by(0.03).household_log_sd;
  const auto unlike = pooled_from_homes_that_differ_by(0.12).household_log_sd;
  CAPTURE(alike, unlike);
  REQUIRE(alike < 0.05);
  REQUIRE(alike > 0.02);
  REQUIRE(unlike > 0.09);
  REQUIRE(unlike < 0.15);
}
