// SPDX-License-Identifier: MIT
/// Households simulated with forecasters that follow a rule: what they are told, and what the score sees.
#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "tests/bench/world/simulate.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::bench;

namespace {

const std::filesystem::path cells_folder = std::filesystem::path(CELLARER_SOURCE_DIR) / "data/cells";

/// Changes after so many days by the records, and keeps count of what it is told.
class AfterDays final : public Forecaster, public TruthWatcher {
 public:
  struct Told {
    int changes = 0, readings = 0, settings = 0, longer = 0, units = 0, sets = 0;
    bool in_order = true;
    double steepest_rise = 0;  ///< of the gauge within a set [points]
  };
  AfterDays(int days, Told& told) : days_(days), told_(told) {}

  void recorded(const life::CellChange& change) override {
    ++told_.changes;
    told_.in_order = told_.in_order && change.recorded_at >= newest_;
    newest_ = change.recorded_at;
    since_[change.side] = change.at;
    shown_.erase(change.side);
  }
  void recorded(const life::Reading& reading) override {
    ++told_.readings;
    told_.in_order = told_.in_order && reading.recorded_at >= newest_;
    newest_ = reading.recorded_at;
    if (const auto* shown = std::get_if<life::PercentShown>(&reading.value)) {
      const auto [last, first_of_set] = shown_.emplace(reading.side, shown->percent);
      if (!first_of_set) told_.steepest_rise = std::max(told_.steepest_rise, shown->percent - last->second);
      last->second = shown->percent;
    }
  }
  void recorded(const duty::Settings&) override { ++told_.settings; }
  void recorded(const duty::PacedInstead&) override { ++told_.longer; }
  void recorded(const life::UnitInUse&) override { ++told_.units; }
  bool advises_change(Side side, Instant at) override {
    return since_.count(side) > 0 && at - since_[side] >= std::chrono::hours(24 * days_ - 2);
  }
  double probability_by(Side, Instant, Instant) override { return 0; }
  void set_in(Side, const SetCourse&) override { ++told_.sets; }

 private:
  int days_;
  Told& told_;
  Instant newest_{};
  std::map<Side, Instant> since_;
  std::map<Side, double> shown_;  ///< last, of the cells that are in
};

class Log final : public Observer {
 public:
  std::map<SetEnd, int> ends;
  std::vector<SetEnded> sets;
  std::map<std::pair<Side, int>, Instant> first_cutoffs;  ///< by set
  int evenings = 0, warnings = 0;
  bool orderly = true;

  void evening(const Evening& now) override {
    ++evenings;
    orderly = orderly && now.cells_since <= now.at && now.at <= now.cutoff && now.at < now.next &&
              now.charge_left_share >= 0 && now.charge_left_share <= 1;
    first_cutoffs.emplace(std::pair{now.side, now.sets_ended}, now.cutoff);
  }
  void set_ended(const SetEnded& set) override {
    ++ends[set.end];
    sets.push_back(set);
    orderly = orderly && set.out > set.in && set.charge_left_share >= 0 && set.charge_left_share <= 1;
  }
  void warned(const Warned&) override { ++warnings; }
};

struct Outcome {
  Log log;
  AfterDays::Told told;
};

Outcome run(const World& world, int days, std::size_t households = 1) {
  Outcome outcome;
  const MakeForecaster decider = [&](const life::Household&) {
    return std::make_unique<AfterDays>(days, outcome.told);
  };
  for (std::size_t household = 0; household < households; ++household) {
    simulate(world, 5, household, decider, {}, outcome.log);
  }
  return outcome;
}

WorldSpec small_world(WorldSpec spec, int nights) {
  spec.cells.brands = {"lr6-duracell-procell", "lr6-varta-long-life"};
  spec.nights = nights;
  return spec;
}

}  // namespace

TEST_CASE("a household's nights are all seen, in order, and sets that come out early leave charge") {
  const World world(small_world(reference_world(), 100), cells_folder);
  const auto outcome = run(world, 6);
  CHECK(outcome.log.evenings == 200);
  CHECK(outcome.log.orderly);
  CHECK(outcome.told.in_order);
  CHECK(outcome.told.readings == 200);
  CHECK(outcome.told.sets == outcome.told.changes);
  CHECK(outcome.log.ends.size() == 1);
  CHECK(outcome.log.ends.at(SetEnd::planned) == 32);
  double left = 0;
  for (const auto& set : outcome.log.sets) left += set.charge_left_share / 32;
  CHECK(left == Approx(0.5).epsilon(0.05));  // six days of twelve at constant current
}

TEST_CASE("sets that nobody changes run out, about the asked number of days apart, with nothing left") {
  const World world(small_world(reference_world(), 365), cells_folder);
  const auto outcome = run(world, 1000, 4);
  CHECK(outcome.log.ends.size() == 1);
  const double sets = outcome.log.ends.at(SetEnd::ran_out);
  CHECK(sets == Approx(4 * 2 * 365 / 12.0).epsilon(0.06));
  for (const auto& set : outcome.log.sets) CHECK(set.charge_left_share == Approx(0).margin(1e-9));
  CHECK(outcome.log.warnings > 0.9 * sets);
}

TEST_CASE("no reading is of cells that went in after it") {
  // Sets of two days that run out at any minute: of some thousand, a few while the gauges are being read. Within a set
  // a gauge falls by half a scale a day, and its noise of 5 points cannot hide that.
  auto spec = small_world(reference_world(), 365);
  spec.set_life_days = 2;
  const World world(spec, cells_folder);
  const auto outcome = run(world, 1000, 30);
  CHECK(outcome.log.ends.at(SetEnd::ran_out) > 10000);
  CHECK(outcome.told.steepest_rise < 25);
}

TEST_CASE("with warnings heeded hardly a set runs out, and missed evenings count as ignored advice") {
  auto spec = small_world(reference_world(), 365);
  spec.people.warning_heeded = 1;
  auto heeded = run(World(spec, cells_folder), 1000, 4);
  CHECK(heeded.log.ends[SetEnd::ran_out] < 0.1 * heeded.log.ends[SetEnd::warning]);
  spec.people.warning_heeded = 0;
  spec.people.missed = 0.5;
  auto missed = run(World(spec, cells_folder), 10, 4);
  CHECK(missed.log.ends[SetEnd::ignored] > 5);
  CHECK(missed.log.ends[SetEnd::ran_out] <= 2);
}

TEST_CASE("the same seed gives the same household, and the truth of a set does not hang on the forecaster") {
  const World world(small_world(field_world(), 200), cells_folder);
  const auto once = run(world, 7), again = run(world, 7), other = run(world, 8);
  REQUIRE(once.log.sets.size() == again.log.sets.size());
  for (std::size_t i = 0; i < once.log.sets.size(); ++i) {
    CHECK(once.log.sets[i].out == again.log.sets[i].out);
    CHECK(once.log.sets[i].charge_left_share == again.log.sets[i].charge_left_share);
  }
  const auto first = std::pair{Side::left, 0};
  CHECK(once.log.first_cutoffs.at(first) == other.log.first_cutoffs.at(first));
  const HouseholdTruth truth(world, 5, 0);
  CHECK(truth.set(Side::right, 3).log_capacity == truth.set(Side::right, 3).log_capacity);
  CHECK(truth.set(Side::right, 3).log_capacity != truth.set(Side::right, 4).log_capacity);
}

TEST_CASE("in the field everything happens, and the records come in the order of recording") {
  const World world(small_world(field_world(), 600), cells_folder);
  const auto outcome = run(world, 10, 20);
  CHECK(outcome.told.in_order);
  CHECK(outcome.log.orderly);
  for (const auto end :
       {SetEnd::planned, SetEnd::early, SetEnd::warning, SetEnd::ran_out, SetEnd::ignored, SetEnd::sudden}) {
    INFO("end " << static_cast<int>(end));
    CHECK(outcome.log.ends.count(end) == 1);
  }
  CHECK(outcome.told.settings > 0);
  CHECK(outcome.told.longer > 0);
  CHECK(outcome.told.units > 0);
  CHECK(outcome.told.changes != outcome.told.sets);  // some changes were never written down, or twice
}
