// SPDX-License-Identifier: MIT
#include "model/life/policy.hpp"

#include "model/life/changing_times.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/life_world.hpp"

using namespace cellarer;
using namespace std::chrono_literals;

namespace {

/// A course that draws the same every day, so that charge and time are one: `days` of 100 units.
struct Days {
  testing::World world;
  life::Course course;
  double per_day;
  std::vector<Instant> times;

  Days() : course(steady(), Side::left, world.start, world.start + 24h * 60) {
    per_day = course.charge_mAh(course.from() + 24h);
    times = life::changing_times(world.household.zone, world.household.changing_times, world.start, course.to());
    times.erase(times.begin());
  }

  const life::Household& steady() {
    for (auto& settings : world.household.settings) settings.paced.clear();  // all day
    return world.household;
  }

  /// Cut-off at `day` with standard deviation `sd`, both in days.
  life::CrossingDistribution cutoff(double day, double sd) const { return {{{day * per_day, sd * per_day, 1.0}}, 0}; }
};

double day_of(const Days& days, Instant at) { return hours_between(days.world.start, at) / 24; }

}  // namespace

TEST_CASE("the distribution of a crossing is the normal one where there is one hypothesis") {
  // Standard normal quantiles (any table): 1.6449 at 95 %, -4.2649 at 1e-5.
  const life::CrossingDistribution crossing({{100, 10, 1}}, -1e9);
  REQUIRE(crossing.charge(0.95) == Approx(100 + 16.449).epsilon(1e-3));
  REQUIRE(crossing.by(100 - 42.649) == Approx(1e-5).epsilon(1e-3));
}

TEST_CASE("what was survived is not counted again") {
  // Identity: P(X < b | X > a) = (F(b) - F(a)) / (1 - F(a)), here a at the median.
  const life::CrossingDistribution crossing({{100, 10, 1}}, 100);
  REQUIRE(crossing.by(100) == 0);
  REQUIRE(crossing.by(116.449) == Approx(0.9).epsilon(1e-3));
}

TEST_CASE("with no time ever missed the change comes at the last time before the risk exceeds the limit") {
  // Cut-off at day 12 +- 0.5: the 1e-5 quantile is 12 - 4.2649 * 0.5 = day 9.87. Waiting at day 8 risks day 9 (fine),
  // waiting at day 9 risks day 10 (too late), so the change is by day 9.
  const Days days;
  const auto plan = life::plan_change(days.cutoff(12, 0.5), days.course, days.times, {1e-5, 0.0, 1e-5});
  REQUIRE(day_of(days, plan.change_by) == Approx(9));
}

TEST_CASE("a probability of missing a time brings the change forward by what that miss would cost") {
  // With 5 % missed, P(day k + 2) may be 2e-4: quantile -3.5401 (standard normal), day 10.23. Waiting at day 8 risks
  // day 10 with a twentieth: 0.05 * P(10), P(10) = F(-4) = 3.167e-5: 1.6e-6, fine; waiting at day 9 already risks 3e-5.
  const Days days;
  const auto kept = life::plan_change(days.cutoff(12, 0.5), days.course, days.times, {1e-5, 0.05, 1e-5});
  REQUIRE(day_of(days, kept.change_by) == Approx(9));
  // Cut-off at 11.6: P(9) = F(-5.2) = 1e-7, P(10) = F(-3.2) = 6.9e-4, a twentieth of it 3.4e-5: too much at day 8.
  const auto early = life::plan_change(days.cutoff(11.6, 0.5), days.course, days.times, {1e-5, 0.05, 1e-5});
  REQUIRE(day_of(days, early.change_by) == Approx(8));
  const auto never_missed = life::plan_change(days.cutoff(11.6, 0.5), days.course, days.times, {1e-5, 0.0, 1e-5});
  REQUIRE(day_of(days, never_missed.change_by) == Approx(9));
}

TEST_CASE("a missed time is forgiven until the risk of it all is used up") {
  // limit / m = 2e-4: the latest time with F((T - 12) / 0.5) <= 2e-4 is day 10 (3.2e-5); day 11 has 2.3e-2.
  const Days days;
  const auto plan = life::plan_change(days.cutoff(12, 0.5), days.course, days.times, {1e-5, 0.05, 1e-5});
  REQUIRE(day_of(days, plan.no_later_than) == Approx(10));
  REQUIRE(plan.no_later_than >= plan.change_by);
}

TEST_CASE("nights follow each other, their risks add up, and their windows tell three things") {
  const Days days;
  const auto cutoff = days.cutoff(12, 0.5);
  const auto plan = life::plan_change(cutoff, days.course, days.times, {1e-5, 0.05, 1e-5});
  const auto nights =
      life::nights_ahead(cutoff, days.course, days.world.household, days.world.start + 1h, plan.change_by, 90);
  double sum = 0;
  for (std::size_t i = 0; i < nights.size(); ++i) {
    if (i > 0) REQUIRE(nights[i].from == nights[i - 1].to);
    sum += nights[i].risk;
  }
  REQUIRE(sum == Approx(nights.back().risk_by_end).epsilon(1e-9));
  REQUIRE(nights.front().tonight);
  REQUIRE(nights[8].window == life::Window::expected);       // ends at day 9, the change
  REQUIRE(nights[9].window == life::Window::doubtful);       // ends at day 10
  REQUIRE(nights[12].window == life::Window::not_expected);  // ends at day 13, after the median
}
