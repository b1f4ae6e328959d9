// SPDX-License-Identifier: MIT
// Simulation-based calibration: on draws from the model's own prior, the rank of the truth in its posterior is uniform
// (Cook, Gelman, Rubin 2006; Talts et al. 2018). Seeded, so that the same draws are judged each time.
#include <algorithm>
#include <cmath>
#include <random>

#include "model/duty/set_voltage.hpp"
#include "model/life/gauge.hpp"
#include "model/life/set_posterior.hpp"
#include "model/life/set_story.hpp"
#include "model/life/stretched_depth.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/life_world.hpp"

using namespace cellarer;
using namespace std::chrono_literals;

namespace {

/// One set drawn from the prior and read once a day for six days; answers where its true end falls in the posterior.
class Draw {
 public:
  /// `noise`: of the gauge that is read, over its profile's.
  explicit Draw(std::optional<int> steps, double noise = 1, double mistakes_percent = 3)
      : noise_(noise),
        mistakes_percent_(mistakes_percent),
        course_(world_.household, Side::left, world_.start, world_.start + 24h * 80) {
    if (steps) world_.household.units.front().stimulator.gauge.steps = steps;
    setup_.course = &course_;
    setup_.cell = &cell_;
    const auto& spread = cell_.spread;
    const double offset_V = spread.curve_sd_V * std::sqrt(2.0), tilt_V = spread.curve_tilt_sd_V * std::sqrt(2.0);
    const double capacity = life::own_capacity_log_sd(spread, 2, 0);
    auto& cov = setup_.prior.belief.cov;
    cov = life::SetBelief::Vector(0.08 * 0.08, 9.0, offset_V * offset_V, tilt_V * tilt_V, capacity * capacity)
              .asDiagonal();
    cov(life::row_offset, life::row_capacity) = cov(life::row_capacity, life::row_offset) =
        spread.offset_capacity_correlation * offset_V * capacity;
    cell_.spread.dud_fraction = 0;
  }

  double rank(std::mt19937_64& random) {
    std::normal_distribution<double> normal;
    const auto& unit = world_.household.units.front().stimulator;
    const auto& phase = course_.phases().front();
    const auto& spread = cell_.spread;
    const double use = std::exp(setup_.prior.belief.sd(life::row_use) * normal(random)), bias = 3.0 * normal(random);
    const double capacity_sd =
        1.10 * std::sqrt(spread.specimen_log_sd * spread.specimen_log_sd / 2 + spread.lot_log_sd * spread.lot_log_sd);
    const double capacity_z = normal(random), rho = spread.offset_capacity_correlation;
    const double lambda = std::exp(capacity_sd * capacity_z);
    const double offset_V =
        std::sqrt(2.0) * spread.curve_sd_V * (rho * capacity_z + std::sqrt(1 - rho * rho) * normal(random));
    const double tilt_V = std::sqrt(2.0) * spread.curve_tilt_sd_V * normal(random);
    const double form_V = 2 * spread.curve_form_sd_V;
    const LoadTable table(unit, cell_.curve, phase.pacing);
    const DepthScale scale(table, lambda);
    double wander = noise_ * unit.gauge.noise_points * normal(random);
    life::SetPosterior posterior(setup_);
    life::SetWalk walk({&course_, &cell_, nullptr, setup_.prior, setup_.grid, 0}, fresh_cells());
    const double cutoff = duty::cutoff_depth(unit, cell_.curve, phase.pacing, use);
    for (int day = 1; day <= 6; ++day) {
      const auto at = world_.start + 24h * day;
      const double keep = std::exp(-24 / 107.0);
      wander = keep * wander + noise_ * unit.gauge.noise_points * std::sqrt(1 - keep * keep) * normal(random);
      const double depth = scale.depth(course_.charge_mAh(at) * use / cell_.curve.capacity_mAh());
      const double volts = duty::pacing_V(unit, cell_.curve, phase.pacing, use, depth) + offset_V +
                           life::tilt_at(depth / cutoff) * tilt_V + form_V * normal(random);
      const double shown = life::gauge_percent(unit.gauge, volts) + bias + wander + noise_ * normal(random);
      const auto noted = reading(at, shown, random);
      posterior.observe(*life::observation_of(noted, unit));
      walk.take(noted);
    }
    // Whoever tells two stories teaches nothing (lessons.cpp).
    const auto story = walk.story();
    gauge_fit_ = story.agrees ? story.lesson.gauge : life::GaugeFit{};
    const double mean_mAh = scale.travelled(cutoff) * cell_.curve.capacity_mAh() / use;
    const double per_day = course_.charge_mAh(course_.to()) / 80;
    return posterior.cutoff().by(mean_mAh + setup_.day_log_sd * std::sqrt(per_day * mean_mAh) * normal(random));
  }

  /// How the readings of the last draw fitted, as whoever follows a set counts them: some are set aside, some trusted.
  const life::GaugeFit& gauge_fit() const { return gauge_fit_; }

 private:
  using DepthScale = life::DepthScale;
  using LoadTable = life::LoadTable;
  double noise_, mistakes_percent_;
  life::GaugeFit gauge_fit_;
  testing::World world_;
  cell::Profile cell_ = testing::plain_cell();
  life::Course course_;
  life::SetPosterior::Setup setup_;

  /// Ten years before their expiry: nothing is lost yet.
  life::CellChange fresh_cells() const {
    life::CellChange change;
    change.at = change.recorded_at = course_.from();
    change.side = Side::left;
    const std::chrono::year_month_day made(std::chrono::floor<std::chrono::days>(course_.from()));
    change.cells.expires = made.year() / made.month() + std::chrono::years(10);
    return change;
  }

  /// What the person notes: a number, or the step it falls into; mistakes are any number at all.
  life::Reading reading(Instant at, double shown, std::mt19937_64& random) {
    std::uniform_real_distribution<double> uniform(0, 100);
    if (uniform(random) < mistakes_percent_) shown = uniform(random);
    const auto steps = world_.household.units.front().stimulator.gauge.steps;
    if (!steps) return {at, at, Side::left, life::Condition::pacing, life::PercentShown{std::clamp(shown, 0.0, 100.0)}};
    const int step = std::clamp(static_cast<int>(std::ceil(shown * *steps / 100)), 0, *steps);
    return {at, at, Side::left, life::Condition::pacing, life::StepShown{step, *steps}};
  }
};

/// Kolmogorov's statistic of values that should be uniform on 0..1.
double kolmogorov(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  double largest = 0;
  const auto count = static_cast<double>(values.size());
  for (std::size_t i = 0; i < values.size(); ++i) {
    largest = std::max({largest, std::abs(values[i] - static_cast<double>(i) / count),
                        std::abs(values[i] - static_cast<double>(i + 1) / count)});
  }
  return largest;
}

double distance_from_uniform(std::optional<int> steps, unsigned seed) {
  std::mt19937_64 random(seed);
  std::vector<double> ranks;
  for (int k = 0; k < 300; ++k) ranks.push_back(Draw(steps).rank(random));
  return kolmogorov(std::move(ranks));
}

/// Excess of the squares of z over what is expected, for as much as one number tells.
double excess_of_noise(std::optional<int> steps, double noise, unsigned seed, double mistakes_percent = 0) {
  std::mt19937_64 random(seed);
  life::GaugeFit all;
  for (int k = 0; k < 300; ++k) {
    Draw draw(steps, noise, mistakes_percent);
    draw.rank(random);
    all.excess += draw.gauge_fit().excess;
    all.readings += draw.gauge_fit().readings;
  }
  return all.excess / all.readings;
}

}  // namespace

TEST_CASE("on draws from its own prior the posterior is calibrated, with a percent gauge and with five steps") {
  // Kolmogorov's distribution: 1.63 / sqrt(n) is exceeded once in a hundred by uniform values (any table).
  const double limit = 1.63 / std::sqrt(300.0);
  REQUIRE(distance_from_uniform(std::nullopt, 20260301) < limit);
  REQUIRE(distance_from_uniform(5, 20260302) < limit);
}

TEST_CASE(
    "a gauge whose noise is as its profile says is not found noisier, one that is worse or better is, steps too") {
  // Identity: a score has mean nought under the truth. 300 sets of six readings, each telling 0.2 to 1 of a number's
  // information: standard error sqrt(2 / 1800) = 0.03 for numbers, about 0.07 for steps; four of them.
  for (const auto& [steps, margin] : {std::pair{std::optional<int>(), 0.13}, std::pair{std::optional<int>(5), 0.3}}) {
    INFO("steps: " << steps.value_or(0));
    CHECK(excess_of_noise(steps, 1, 20260303) == Approx(0).margin(margin));
    CHECK(excess_of_noise(steps, 1, 20260306, 3) == Approx(0).margin(margin + 0.1));  // as many mistakes as allowed for
    CHECK(excess_of_noise(steps, 2.5, 20260304) > margin);
    CHECK(excess_of_noise(steps, 0.3, 20260305) < -margin / 2);
  }
}
