// SPDX-License-Identifier: MIT
// What sets teach, against the closed form of a joint normal distribution.
#include "model/life/learning.hpp"

#include <algorithm>
#include <cmath>
#include <random>

#include "model/life/lessons.hpp"
#include "model/life/normal.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/taught.hpp"

using namespace cellarer;
using namespace std::chrono_literals;
using testing::mean_use;
using testing::Taught;
using testing::use_variance;
using testing::use_was;

namespace {

/// d ln(mean current) / d(exponent), here by a small difference of the exponent in the load itself.
double exponent_slope(const life::Household& household, double amplitude) {
  constexpr double more = 1e-4;
  auto settings = household.settings.front();
  settings.amplitude = amplitude;
  auto steeper = household.units.front().stimulator.left;
  const double before_mA = duty::pacing_load(steeper, settings).mean_mA();
  steeper.exponent += more;
  return std::log(duty::pacing_load(steeper, settings).mean_mA() / before_mA) / more;
}

}  // namespace

TEST_CASE("a set whose use is known moves the next one by the share that they have in common") {
  // Regression of one normal number on another: Cov / Var; in common is all but the set's own part.
  Taught taught;
  life::Learning learning(taught.world.household);
  const auto course = taught.course(taught.world.start);
  const auto before = learning.prior(course, taught.cell());
  const double own = std::pow(taught.world.household.agency.set_log_sd, 2);
  const double total = use_variance(before), common = total - own;
  learning.learn(course, taught.cell(), before, use_was(before, 0.10));
  const auto after = learning.prior(course, taught.cell());
  REQUIRE(mean_use(after) == Approx(0.10 * common / total));
  REQUIRE(use_variance(after) == Approx(total - common * common / total));
}

TEST_CASE("what the left side taught, the right one has as far as it is the household's and the cells'") {
  Taught taught;
  life::Learning learning(taught.world.household);
  const auto left = taught.course(taught.world.start), right = taught.course(taught.world.start, Side::right);
  const auto before = learning.prior(left, taught.cell());
  learning.learn(left, taught.cell(), before, use_was(before, 0.10));
  const auto& agency = taught.world.household.agency;
  const double shared = std::pow(agency.household_log_sd, 2) + std::pow(taught.cell().spread.curve_charge_log_sd, 2);
  REQUIRE(mean_use(learning.prior(right, taught.cell())) == Approx(0.10 * shared / use_variance(before)));
}

TEST_CASE("a unit that comes back is the one that was known, another unit is not") {
  Taught taught;
  const auto start = taught.world.start;
  auto& units = taught.world.household.units;
  units.push_back({"u-2", units.front().stimulator, start + 24h * 100});
  units.push_back({"u-1", units.front().stimulator, start + 24h * 200});
  life::Learning learning(taught.world.household);
  const auto course = taught.course(start);
  const auto before = learning.prior(course, taught.cell());
  learning.learn(course, taught.cell(), before, use_was(before, 0.10));
  const auto same = learning.prior(course, taught.cell());
  const auto other = learning.prior(taught.course(start + 24h * 100), taught.cell());
  const auto back = learning.prior(taught.course(start + 24h * 200), taught.cell());
  REQUIRE(mean_use(back) == Approx(mean_use(same)));
  REQUIRE(mean_use(other) < mean_use(same));
  REQUIRE(use_variance(other) > use_variance(back));
}

TEST_CASE("another cell type keeps what is known of the side, and brings its own uncertainty") {
  Taught taught;
  taught.world.household.cell_profiles["lr6-other"] = testing::plain_cell("lr6-other");
  life::Learning learning(taught.world.household);
  const auto course = taught.course(taught.world.start);
  const auto before = learning.prior(course, taught.cell());
  learning.learn(course, taught.cell(), before, use_was(before, 0.10));
  const auto same = learning.prior(course, taught.cell()), other = learning.prior(course, taught.cell("lr6-other"));
  REQUIRE(mean_use(other) < mean_use(same));
  REQUIRE(mean_use(other) > 0.8 * mean_use(same));
  REQUIRE(use_variance(other) > use_variance(same));
}

TEST_CASE("what a type's curve is off in tilt and capacity is taught by its sets as far as they have it in common") {
  // Regression of one normal number on another: Cov / Var. A set of two cells shows twice the tilt of its type's curve.
  Taught taught;
  auto& profiles = taught.world.household.cell_profiles;
  profiles.at("lr6-plain").spread.fit_log_sd = 0.025;
  profiles["lr6-other"] = testing::plain_cell("lr6-other");
  const auto& spread = taught.cell().spread;
  life::Learning learning(taught.world.household);
  const auto course = taught.course(taught.world.start);
  const auto before = learning.prior(course, taught.cell());
  const auto& [first_mean, first_cov] = before.belief;
  const double type_tilt = std::pow(2 * spread.type_tilt_sd_V, 2), own_tilt = 2 * std::pow(spread.curve_tilt_sd_V, 2);
  CHECK(first_cov(life::row_tilt, life::row_tilt) == Approx(type_tilt + own_tilt).epsilon(1e-4));
  const double type_capacity = std::pow(life::type_capacity_log_sd(spread), 2),
               own_capacity = std::pow(life::own_capacity_log_sd(spread, 2, 0), 2);
  CHECK(first_cov(life::row_capacity, life::row_capacity) == Approx(type_capacity + own_capacity));

  auto lesson = before;
  for (const auto& [row, seen] : {std::pair{life::row_tilt, 0.02}, std::pair{life::row_capacity, -0.04}}) {
    lesson.belief.mean[row] = seen;
    lesson.belief.cov.row(row).setZero();
    lesson.belief.cov.col(row).setZero();
  }
  // Offset goes with capacity: told of neither, it keeps what the capacity leaves of it.
  const double with_capacity = first_cov(life::row_offset, life::row_capacity);
  const double per_capacity = with_capacity / first_cov(life::row_capacity, life::row_capacity);
  lesson.belief.mean[life::row_offset] = -0.04 * per_capacity;
  lesson.belief.cov(life::row_offset, life::row_offset) -= per_capacity * with_capacity;
  learning.learn(course, taught.cell(), before, {lesson.belief, {}});
  const auto after = learning.prior(course, taught.cell()), other = learning.prior(course, taught.cell("lr6-other"));
  CHECK(after.belief.mean[life::row_tilt] == Approx(0.02 * type_tilt / (type_tilt + own_tilt)).epsilon(1e-4));
  CHECK(after.belief.mean[life::row_capacity] == Approx(-0.04 * type_capacity / (type_capacity + own_capacity)));
  CHECK(after.belief.sd(life::row_capacity) < before.belief.sd(life::row_capacity));
  CHECK(other.belief.mean[life::row_tilt] == 0);
  CHECK(other.belief.mean[life::row_capacity] == 0);

  // From lot to lot it is forgotten again, and never more than all.
  for (int month = 0; month < 240; ++month) learning.pass_time(30);
  const auto later = learning.prior(course, taught.cell()).belief;
  CHECK(later.sd(life::row_capacity) > 0.95 * before.belief.sd(life::row_capacity));
  CHECK(later.sd(life::row_capacity) <= before.belief.sd(life::row_capacity));
  CHECK(later.mean[life::row_capacity] == after.belief.mean[life::row_capacity]);
}

TEST_CASE("an error of the amplitude's exponent shows as the derivative of the mean current says") {
  // Identity: d ln I_m / dg.
  for (const double amplitude : {2.5, 4.0, 6.0}) {
    Taught taught;
    taught.amplitude(amplitude);
    auto& household = taught.world.household;
    const double slope = exponent_slope(household, amplitude);
    household.agency.models["plain"].exponent_mean = 0.2;
    const life::Learning learning(household);
    REQUIRE(mean_use(learning.prior(taught.course(taught.world.start), taught.cell())) ==
            Approx(0.2 * slope).epsilon(1e-3).margin(1e-9));
  }
}

TEST_CASE("sets at two amplitudes teach the exponent, and a third amplitude profits") {
  Taught taught;
  taught.amplitude(6);
  const auto plain = life::Learning(taught.world.household).prior(taught.course(taught.world.start), taught.cell());
  taught.amplitude(4);  // the reference: the exponent does nothing there
  life::Learning learning(taught.world.household);
  for (int set = 0; set < 20; ++set) {
    const auto course = taught.course(taught.world.start);
    const auto prior = learning.prior(course, taught.cell());
    learning.learn(course, taught.cell(), prior, use_was(prior, 0.0));
  }
  taught.amplitude(5);
  for (int set = 0; set < 20; ++set) {
    const auto course = taught.course(taught.world.start);
    const auto prior = learning.prior(course, taught.cell());
    learning.learn(course, taught.cell(), prior, use_was(prior, 0.05));
  }
  taught.amplitude(6);
  const auto at_6 = learning.prior(taught.course(taught.world.start), taught.cell());
  REQUIRE(mean_use(at_6) > 0.05);
  REQUIRE(use_variance(at_6) < use_variance(plain));
}

TEST_CASE("a set that was half at one amplitude and half at another teaches the exponent by the mean of the two") {
  // Regression of one normal number on another, Cov / Var: what was seen is the set's use, to which the exponent adds
  // (h(5) + h(6)) / 2 times its own error; the rest of the variance is what a set at the reference amplitude has.
  const double first_sd = life::ModelKnowledge{}.exponent_sd, moved = 0.10;
  for (const double known : {0.0, 0.2}) {
    Taught taught;
    auto& household = taught.world.household;
    household.agency.models["plain"].exponent_mean = known;
    const double slope_5 = exponent_slope(household, 5), slope_6 = exponent_slope(household, 6);
    const double slope = (slope_5 + slope_6) / 2;
    const double rest = use_variance(life::Learning(household).prior(taught.course(taught.world.start), taught.cell()));

    taught.amplitude(5);
    auto raised = household.settings.front();
    raised.from = taught.world.start + 24h * 6;
    raised.amplitude = 6;
    household.settings.push_back(raised);
    const auto whole = taught.course(taught.world.start);
    const auto ended = whole.when(2 * whole.charge_mAh(raised.from));
    const life::Course course(household, Side::left, taught.world.start, ended);
    REQUIRE(course.phases().size() == 2);

    const auto exponent_of = [&](const life::Learning& learning) {
      const auto load = [&](double amplitude) {
        auto settings = raised;
        settings.amplitude = amplitude;
        return life::Learning::Drawn{0, duty::pacing_load(household.units.front().stimulator.left, settings)};
      };
      return learning.log_use_apart(Side::left, load(4), load(6)) / slope_6;  // at 4 the exponent does nothing
    };
    const double expected = known + moved * first_sd * first_sd * slope / (rest + first_sd * first_sd * slope * slope);
    // Of a course that goes on beyond the set's end only what the set gave counts.
    for (const auto* of_the_set : {&course, &whole}) {
      life::Learning learning(household);
      const auto prior = learning.prior(*of_the_set, taught.cell());
      CHECK(prior.phase_shifts.at(1).log_use == Approx(known * (slope_6 - slope_5)).epsilon(1e-3).margin(1e-12));
      learning.learn(*of_the_set, taught.cell(), prior, use_was(prior, mean_use(prior) + moved), ended);
      CHECK(exponent_of(learning) == Approx(expected).epsilon(1e-3));
    }
  }
}

namespace {

/// Sets of ten numbers whose spread is this many times the profile's, held against what each set was followed with.
class ReadGauge {
 public:
  explicit ReadGauge(Taught& taught) : taught_(taught), learning_(taught.world.household) {}

  void sets(int count, double spread) {
    for (int set = 0; set < count; ++set) {
      const auto prior = learning_.prior(course_, taught_.cell());
      life::GaugeFit fit;
      for (int reading = 0; reading < 10; ++reading) {
        const double place = life::normal_below(spread / prior.gauge_noise_scale * normal_(random_));
        fit.add(place, place);
      }
      learning_.learn(course_, taught_.cell(), prior, {prior.belief, fit});
      least_ = std::min(least_, prior.gauge_noise_scale);
    }
  }
  double scale() const { return learning_.prior(course_, taught_.cell()).gauge_noise_scale; }
  double least() const { return least_; }

 private:
  Taught& taught_;
  life::Course course_ = taught_.course(taught_.world.start);
  life::Learning learning_;
  std::mt19937_64 random_{20261201};
  std::normal_distribution<double> normal_;
  double least_ = 9;
};

}  // namespace

TEST_CASE("gauge noise that fits as expected stays, and one twice as large is found out") {
  // The truth that is drawn with. Forty readings at the profile's figure begin the average and keep a part in it.
  Taught taught;
  ReadGauge as_expected(taught), noisy(taught);
  as_expected.sets(60, 1);
  noisy.sets(60, 2);
  CHECK(as_expected.scale() == Approx(1).margin(0.07));
  CHECK(noisy.scale() == Approx(2).margin(0.15));
}

TEST_CASE("a gauge that seems quieter than its profile is not trusted more, and is found noisier as soon as any") {
  // A rule of protection of our own.
  Taught taught;
  ReadGauge quiet(taught), plain(taught);
  quiet.sets(40, 0.5);
  plain.sets(40, 1);
  CHECK(quiet.least() == 1);
  CHECK(quiet.scale() == 1);
  quiet.sets(20, 2);
  plain.sets(20, 2);
  CHECK(quiet.scale() > 1.3);
  CHECK(quiet.scale() == Approx(plain.scale()).margin(0.1));
}

TEST_CASE("a set that saw two units teaches nothing, nor does one of unknown age") {
  Taught taught;
  auto& household = taught.world.household;
  const auto start = taught.world.start;
  household.units.push_back({"u-2", household.units.front().stimulator, start + 24h * 5});
  life::Stint stint{household.cell_changes.front(), household.cell_changes.front(), {}};
  stint.out->at = start + 24h * 4;
  REQUIRE(life::may_teach(household, Side::left, stint));
  stint.out->at = start + 24h * 6;
  REQUIRE_FALSE(life::may_teach(household, Side::left, stint));
  stint.out->at = start + 24h * 4;
  stint.in.cells.age = life::CellAge::unknown;
  REQUIRE_FALSE(life::may_teach(household, Side::left, stint));
}
