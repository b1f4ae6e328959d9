// SPDX-License-Identifier: MIT
/// The simulated world held against what it is made from: the measured table, itself breath by breath, its own spec.
#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "model/cell/score_rows.hpp"
#include "server/commands/cell_files.hpp"
#include "tests/bench/world/breath_by_breath.hpp"
#include "tests/bench/world/household_truth.hpp"
#include "tests/bench/world/unit.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::bench;

namespace {

const std::filesystem::path cells_folder = std::filesystem::path(CELLARER_SOURCE_DIR) / "data/cells";

WorldSpec small_world(WorldSpec spec, int nights = 60) {
  spec.cells.brands = {"lr6-duracell-procell", "lr6-varta-long-life"};
  spec.nights = nights;
  return spec;
}

double root_mean_square(const std::vector<double>& values) {
  double sum = 0;
  for (const double value : values) sum += value * value;
  return std::sqrt(sum / static_cast<double>(values.size()));
}

}  // namespace

TEST_CASE("the world's table gives back the measured hours of specimen b at 100 and at 500 mA") {
  const World world(small_world(reference_world()), cells_folder);
  const auto& procell = world.brands().front().truth;
  // data/cells/lr6-duracell-procell.json, specimen b (public logs of Moragor/BatteryAnalyzer_MkII)
  for (const auto& [volts, hours] : std::map<double, double>{{1.20, 13.624}, {1.00, 22.886}, {0.90, 24.397}}) {
    CHECK(procell.charge_mAh(volts, 100) / 100 == Approx(hours).epsilon(1e-9));
  }
  for (const auto& [volts, hours] : std::map<double, double>{{1.00, 2.313}, {0.95, 2.631}, {0.90, 2.864}}) {
    CHECK(procell.charge_mAh(volts, 500) / 500 == Approx(hours).epsilon(1e-9));
  }
}

TEST_CASE("the reference world runs on every brand that was measured twice at both loads") {
  std::set<std::string> measured;
  for (const auto& cell : commands::read_cell_folder(cells_folder.string())) {
    if (cell::has_both_loads(cell)) measured.insert(cell.id);
  }
  const auto brands = reference_world().cells.brands;
  CHECK(std::set<std::string>(brands.begin(), brands.end()) == measured);
}

TEST_CASE("below 100 mA the charge follows the published exponents, 1.05 to 1.15") {
  const World world(small_world(reference_world()), cells_folder);
  for (const auto& brand : world.brands()) {
    const double gain = brand.truth.charge_mAh(0.9, 25) / brand.truth.charge_mAh(0.9, 100);
    const double exponent = 1 + std::log(gain) / std::log(4.0);
    CHECK(exponent > 1.05);
    CHECK(exponent < 1.15);
  }
}

TEST_CASE("below 100 mA the forecaster's specimen is another than the truth's, alike as a brand's two were measured") {
  const double as_measured = CellsSpec{}.exponent_alike;
  std::vector<double> fitted, truth;
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    auto spec = small_world(reference_world());
    spec.cells.exponent_alike = as_measured;
    spec.seed = seed;
    const World world(spec, cells_folder);
    for (const auto& brand : world.brands()) {
      fitted.push_back(brand.fitted_on.exponent(0.9, 50));
      truth.push_back(brand.truth.exponent(0.9, 50));
    }
  }
  // Each is even between 1.05 and 1.15: a standard deviation of 0.1 over the root of twelve.
  const auto about = [](std::vector<double> values) {
    for (auto& value : values) value -= 1.10;
    return values;
  };
  CHECK(root_mean_square(about(fitted)) == Approx(0.1 / std::sqrt(12.0)).epsilon(0.2));
  CHECK(root_mean_square(about(truth)) == Approx(0.1 / std::sqrt(12.0)).epsilon(0.2));
  double together = 0;
  for (std::size_t i = 0; i < truth.size(); ++i) together += (fitted[i] - 1.10) * (truth[i] - 1.10);
  const double correlation = 12 * together / static_cast<double>(truth.size()) / 0.01;
  // Three standard deviations of a correlation of 40 pairs, (1 - 0.65^2) / 6.3.
  CHECK(correlation == Approx(as_measured).margin(0.27));
}

TEST_CASE("two specimens of a brand are as alike below 100 mA as theirs were measured from 100 to 500 mA") {
  const double as_measured = CellsSpec{}.exponent_alike;
  // Intraclass correlation of Peukert's exponent from 100 to 500 mA at 0.90 V, over data/cells: between brands
  // (mean square of pairs' means) against within them (half the mean squared difference).
  double within = 0, sum = 0;
  std::vector<double> means;
  for (const auto& id : reference_world().cells.brands) {
    const auto cell = commands::read_cell_path((cells_folder / (id + ".json")).string());
    const double a = DischargeTable(cell, "a", 1.1).exponent(0.9, 200),
                 b = DischargeTable(cell, "b", 1.1).exponent(0.9, 200);
    within += 0.5 * (a - b) * (a - b);
    means.push_back(0.5 * (a + b));
    sum += means.back();
  }
  const auto brands = static_cast<double>(means.size());
  within /= brands;
  for (auto& mean : means) mean -= sum / brands;
  const double between = 2 * std::pow(root_mean_square(means), 2) * brands / (brands - 1);
  CHECK((between - within) / (between + within) == Approx(as_measured).margin(0.01));
}

TEST_CASE("doubling the specimens' difference doubles it at every level, and below 100 mA") {
  auto spec = small_world(reference_world());
  const World once(spec, cells_folder);
  spec.cells.specimen_spread = 2;
  const World twice(spec, cells_folder);
  for (const double volts : {1.2, 1.1, 1.0, 0.9}) {
    const double a = once.brands()[0].fitted_on.charge_mAh(volts, 100);
    const double b = once.brands()[0].truth.charge_mAh(volts, 100);
    CHECK(twice.brands()[0].truth.charge_mAh(volts, 100) == Approx(b * b / a));
    const double low_a = once.brands()[0].fitted_on.charge_mAh(volts, 25);
    const double low_b = once.brands()[0].truth.charge_mAh(volts, 25);
    CHECK(twice.brands()[0].truth.charge_mAh(volts, 25) == Approx(low_b * low_b / low_a));
  }
}

TEST_CASE("a set by the world's tables lasts as long as breath by breath within 0.1 %") {
  for (const auto converter :
       {duty::Converter::constant_current, duty::Converter::constant_power, duty::Converter::constant_resistance}) {
    auto spec = small_world(reference_world());
    spec.unit.converter = converter;
    const World world(spec, cells_folder);
    PacingSet set;
    set.cell = &world.brands()[0].truth;
    set.unit = world.unit_of(0);
    set.load = pacing_load_of(set.unit.left, world.settings_of(0, Side::left), set.unit.left.exponent);
    set.use = 1.06;
    set.capacity = 0.97;
    const double hours = hours_by_table(set);
    CHECK(hours > 100);
    CHECK(hours == Approx(hours_breath_by_breath(set, false)).epsilon(1e-3));
    CHECK(hours == Approx(hours_breath_by_breath(set, true)).epsilon(1e-3));
    const auto sample = compare_breath_by_breath(world, 11, 4);
    CHECK(std::abs(sample.mean) < 1e-3);
    CHECK(std::abs(sample.mean_slow) < 1e-3);
    CHECK(sample.largest < 1e-3);
    // The tables know no slow current: a single set may be a little further off than the average.
    CHECK(sample.largest_slow < 1.5e-3);
  }
}

TEST_CASE("a set with no deviation lasts the days that the world was asked for") {
  for (const double days : {7.0, 12.0, 20.0}) {
    auto spec = small_world(reference_world());
    spec.set_life_days = days;
    spec.cells.set_log_sd = spec.use.set_log_sd = spec.use.side_log_sd = spec.use.day_log_sd = 0;
    const World world(spec, cells_folder);
    const HouseholdTruth household(world, 1, 0);
    const auto course = household.course(Side::left, 0, world.first_evening());
    CHECK(hours_between(course.in, course.cutoff) / 24 == Approx(days).epsilon(0.05));
  }
}

TEST_CASE("the gauge's percent is the share of the charge left, and its error is as wide as asked for") {
  auto spec = small_world(reference_world(), 400);
  const World world(spec, cells_folder);
  std::vector<double> errors, steps;
  for (std::size_t household = 0; household < 60; ++household) {
    const HouseholdTruth truth(world, 7, household);
    Instant in = world.first_evening();
    for (int number = 0; number < 20; ++number) {
      const auto course = truth.course(Side::right, number, in);
      for (std::size_t i = 0; i < course.evenings.size(); ++i) {
        const double left = 100 * (1 - course.evenings[i].charge_mAh / course.charge_to_cutoff_mAh);
        const double error = course.evenings[i].shown -
                             percent_at(world.unit_of(household).gauge.volts_at_percent, course.evenings[i].set_V);
        errors.push_back(error);
        if (i > 0) steps.push_back(error - errors[errors.size() - 2]);
        if (left > 15 && left < 85) CHECK(std::abs(course.evenings[i].shown - error - left) < 12);
      }
      in = course.cutoff;
    }
  }
  // Bias 3 and wander 4 points: 5 together; from day to day the wander moves by 4 sqrt(2 (1 - 0.8)).
  CHECK(root_mean_square(errors) == Approx(5).epsilon(0.15));
  CHECK(root_mean_square(steps) == Approx(4 * std::sqrt(0.4)).epsilon(0.05));
}

TEST_CASE("sets differ by as much as the world was asked for, and duds are as many") {
  auto spec = small_world(reference_world());
  spec.cells.dud_fraction = 0.01;
  const World world(spec, cells_folder);
  std::vector<double> capacity, use;
  int duds = 0, sets = 0;
  for (std::size_t household = 0; household < 400; ++household) {
    const HouseholdTruth truth(world, 3, household);
    for (int number = 0; number < 30; ++number, ++sets) {
      const auto set = truth.set(Side::left, number);
      if (set.dud) ++duds;
      capacity.push_back(set.log_capacity - (set.dud ? std::log(1 - 0.22) : 0));
      use.push_back(set.log_use);
    }
  }
  CHECK(root_mean_square(capacity) == Approx(0.02).epsilon(0.03));
  CHECK(root_mean_square(use) == Approx(0.04).epsilon(0.03));
  CHECK(duds == Approx(0.01 * sets).epsilon(0.3));  // three standard deviations of a Poisson count of 120
}

TEST_CASE("on the night when clocks go forward a side paces an hour less, and an hour more when they go back") {
  auto spec = small_world(reference_world(), 330);
  spec.zone = "Europe/Oslo";
  const World world(spec, cells_folder);
  const auto duty = duty_truth(world, 1, 0);
  std::map<date::sys_days, double> paced_h;  // by the day on which the night begins
  for (const auto& stretch : duty.stretches[0]) {
    const auto night = date::floor<date::days>(stretch.from - std::chrono::hours(12));
    if (stretch.pacing) paced_h[night] += hours_between(stretch.from, stretch.to);
  }
  using namespace date::literals;
  // Directive 2000/84/EC: the last Sundays of March and October, at 01:00 UTC; 30 March and 26 October in 2025.
  const double usual = paced_h.at(2025_y / 3 / 20);
  CHECK(paced_h.at(2025_y / 3 / 29) == Approx(usual - 1));
  CHECK(paced_h.at(2025_y / 10 / 25) == Approx(paced_h.at(2025_y / 10 / 20) + 1));
  CHECK(paced_h.at(2025_y / 10 / 20) == Approx(usual));
}
