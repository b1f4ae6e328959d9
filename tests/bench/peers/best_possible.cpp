// SPDX-License-Identifier: MIT
#include "tests/bench/peers/best_possible.hpp"

#include <algorithm>

#include "model/life/policy.hpp"
#include "tests/bench/peers/best_side.hpp"
#include "tests/bench/sides.hpp"
#include "tests/bench/world/simulate.hpp"

namespace cellarer::bench {

namespace {

class BestPossible final : public Forecaster, public TruthWatcher {
 public:
  BestPossible(const World& world, const life::Policy& policy, double burst_share,
               std::shared_ptr<const WanderGrid> grid, GivenTruth given)
      : world_(world), policy_(policy), burst_share_(burst_share), grid_(std::move(grid)), given_(given) {}

  void set_in(Side side, const SetCourse& course) override { truths_[index_of(side)] = course; }

  void recorded(const life::CellChange& change) override {
    auto& side = side_of(change.side);
    if (!side) make(change);
    side->cells_in(change.at, change.reason == life::ChangeReason::ran_out, truths_[index_of(change.side)]);
  }
  void recorded(const life::Reading& reading) override {
    if (auto& side = side_of(reading.side)) side->reading(reading);
  }
  void recorded(const duty::Settings&) override {}
  void recorded(const duty::PacedInstead&) override {}
  void recorded(const life::UnitInUse&) override {}

  bool advises_change(Side side, Instant at) override {
    const auto day = std::chrono::hours(24);
    return !life::may_wait(probability_by(side, at, at + day), probability_by(side, at, at + 2 * day), policy_);
  }

  double probability_by(Side side, Instant at, Instant when) override {
    const auto& asked = side_of(side);
    return asked ? asked->probability_by(at, when) : 0;
  }

 private:
  const World& world_;
  life::Policy policy_;
  double burst_share_;
  std::shared_ptr<const WanderGrid> grid_;
  GivenTruth given_;
  std::array<std::unique_ptr<BestSide>, 2> sides_;
  std::array<SetCourse, 2> truths_;

  std::unique_ptr<BestSide>& side_of(Side side) { return sides_[index_of(side)]; }

  /// The household's brand is known from its first change; its unit and settings belong to the same household.
  void make(const life::CellChange& change) {
    const auto& brands = world_.brands();
    const auto brand = std::find_if(brands.begin(), brands.end(),
                                    [&](const Brand& one) { return one.id == change.cells.profile.value_or(""); });
    const auto household = static_cast<std::size_t>(brand - brands.begin()) % brands.size();
    const auto& settings = world_.settings_of(household, change.side);
    side_of(change.side) = std::make_unique<BestSide>(
        world_, TrueDischarge(world_, brands[household], household, settings, burst_share_), *grid_, given_);
  }
};

}  // namespace

MakeForecaster best_possible(const World& world, double burst_share, const std::optional<life::Policy>& policy,
                             GivenTruth given) {
  const auto& unit = world.spec().unit;
  auto grid = std::make_shared<const WanderGrid>(Wander{unit.wander_points, unit.wander_correlation});
  return [&world, burst_share, policy, grid, given](const life::Household& first_day) {
    return std::make_unique<BestPossible>(world, policy.value_or(first_day.policy), burst_share, grid, given);
  };
}

}  // namespace cellarer::bench
