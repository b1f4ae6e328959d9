// SPDX-License-Identifier: MIT
#include "model/stock/change_days.hpp"

#include <cmath>
#include <numeric>

#include "tests/support/catch.hpp"

using namespace cellarer::stock;

namespace {

ChangeHabit punctual() {
  ChangeHabit habit;
  habit.miss_probability = 0;
  habit.early_share = 0;
  return habit;
}

double mean_day(const DayPmf& pmf) {
  double mean = 0;
  for (std::size_t d = 0; d < pmf.size(); ++d) mean += static_cast<double>(d) * pmf[d];
  return mean;
}

double total(const DayPmf& pmf) { return std::accumulate(pmf.begin(), pmf.end(), 0.0); }

}  // namespace

// The normal quantile at 1e-5 is -4.264891 (tables; Python 3.11 statistics.NormalDist().inv_cdf(1e-5) = -4.2648908),
// so a median of 288 h with 0.045 gives 288 exp(-4.2648908 * 0.045) = 237.7074 h.
TEST_CASE("With no missed times the plan is the life's quantile at the risk limit") {
  REQUIRE(planned_life_h(288, 0.045, punctual()) == Approx(237.7074).epsilon(1e-5));
}

// By hand: 0.95 * 0.05^m exceeds 1e-5 for m = 0 to 3 only, and 0.05^4 = 6.25e-6 does not: three missed times, 72 h.
TEST_CASE("Lives without spread leave room for as many missed times as the risk limit asks") {
  ChangeHabit habit = punctual();
  habit.miss_probability = 0.05;
  REQUIRE(planned_life_h(288, 0, habit) == Approx(216).margin(0.01));
  REQUIRE(planned_life_h(288, 0, punctual()) == Approx(288).margin(0.01));
}

// By hand: the risk left after leaving room for j missed times is 0.2^j: 0.2^7 = 1.28e-5 is too much, so j = 8; the
// last of the eight terms is 7 * 24 = 168 h on.
TEST_CASE("A household that often misses changing times is given more room") {
  ChangeHabit habit = punctual();
  habit.miss_probability = 0.2;
  REQUIRE(planned_life_h(500, 0, habit) == Approx(332).margin(0.01));
}

TEST_CASE("A life too short for the limit has no plan above nought") {
  ChangeHabit habit = punctual();
  habit.miss_probability = 0.05;
  REQUIRE(planned_life_h(40, 0.05, habit) == 0.0);
}

TEST_CASE("A plan without spread is one day for certain, rounded down to the changing time before") {
  REQUIRE(life_days(240, 0, punctual())[10] == 1.0);
  REQUIRE(life_days(263.9, 0, punctual())[10] == 1.0);
  REQUIRE(life_days(3, 0, punctual())[1] == 1.0);
}

// The median of a log-normal is its planned value: half of the sets last beyond it. P(|z| < 1) = 0.6827 (tables).
TEST_CASE("Days spread about the plan as lives do") {
  const DayPmf pmf = life_days(240, 0.1, punctual());
  double below_ten = 0, within_one_sd = 0;
  for (std::size_t d = 0; d < 10; ++d) below_ten += pmf[d];
  for (std::size_t d = 0; d < pmf.size(); ++d) within_one_sd += d >= 9 && d < 11 ? pmf[d] : 0.0;
  REQUIRE(below_ten == Approx(0.5).margin(1e-9));
  // 9 and 11 days lie at -1.0536 and +0.9531 standard deviations: 0.8297 - 0.1460 from tables of the normal law.
  REQUIRE(within_one_sd == Approx(0.8297 - 0.1460).margin(2e-4));
  REQUIRE(total(pmf) == Approx(1).margin(1e-12));
  REQUIRE(pmf[0] == 0.0);
}

TEST_CASE("Early changes move their share to the days before") {
  ChangeHabit habit = punctual();
  habit.early_share = 0.3;
  habit.early_days = 2;
  const DayPmf pmf = life_days(240, 0, habit);
  REQUIRE(pmf[10] == Approx(0.7));
  REQUIRE(pmf[9] == Approx(0.15));
  REQUIRE(pmf[8] == Approx(0.15));
  const DayPmf due = first_change_days(1, 0, habit);
  REQUIRE(due[1] == Approx(0.7));
  REQUIRE(due[0] == Approx(0.3));
}

TEST_CASE("The current set is changed on its date, or today when that has passed") {
  REQUIRE(first_change_days(6, 0, punctual())[6] == 1.0);
  REQUIRE(first_change_days(6, 0.01, punctual())[6] == Approx(1).margin(1e-6));
  REQUIRE(first_change_days(-3, 0, punctual())[0] == 1.0);
}

TEST_CASE("A set that is due is changed today however wide its remaining time") {
  REQUIRE(first_change_days(0, 3, punctual())[0] == 1.0);
  const Demand demand = cells_demand({{0, 3, 240, 0.05, {}}}, punctual(), 2);
  for (const Scenario& scenario : demand.scenarios) REQUIRE(scenario.streams[0].first[0] == 1.0);
}

TEST_CASE("The spread of the current set's day is a half at most") {
  REQUIRE(first_change_days(4, 3, punctual()) == first_change_days(4, 0.5, punctual()));
}

TEST_CASE("Certain lives make one scenario whose counts are a step on both sides") {
  const Demand demand = cells_demand({{4, 0, 240, 0, {}}, {7, 0, 120, 0, {}}}, punctual(), 2, 30);
  REQUIRE(demand.scenarios.size() == 1);
  const auto counts = used_by_day(demand);  // left 4, 14, 24; right 7, 12, 17, 22, 27
  REQUIRE(counts[13][3 - 1] == 0.0);
  REQUIRE(counts[13][3] == 1.0);
  REQUIRE(counts[29][8] == 1.0);
}

TEST_CASE("A plan that the caller knows takes the place of the policy's") {
  const Demand demand = cells_demand({{4, 0, 240, 0, 312.0}}, punctual(), 2, 60);
  REQUIRE(demand.scenarios[0].streams[0].next[13] == 1.0);
}

TEST_CASE("A shared spread keeps the mean use and widens it more than the sets' own spread") {
  const std::vector<SideOutlook> sides{{5, 0.05, 300, 0.1, {}}, {9, 0.05, 300, 0.1, {}}};
  ChangeHabit own = punctual(), shared = punctual();
  own.shared_variance = 0;
  shared.shared_variance = 1;
  const auto of_own = used_by_day(cells_demand(sides, own, 2))[399];
  const auto of_shared = used_by_day(cells_demand(sides, shared, 2))[399];
  // Whole days: without a spread of its own each scenario is rounded down as one.
  REQUIRE(mean_day(of_shared) == Approx(mean_day(of_own)).epsilon(0.05));
  REQUIRE(smallest_covering(of_shared, 0.999) > smallest_covering(of_own, 0.999) + 5);
}

// The outermost of five Gauss-Hermite nodes lies at 2.8569700 with weight 0.0112574 (Abramowitz & Stegun, table 25.10:
// 2.0201829 and 0.0199532 before scaling by sqrt 2 and 1 / sqrt pi).
TEST_CASE("A scenario shifts every set by its share of the spread and leaves the rest to each set") {
  ChangeHabit habit = punctual();
  habit.shared_variance = 0.36;
  const Demand demand = cells_demand({{20, 0.2, 600, 0.1, {}}}, habit, 2);
  REQUIRE(demand.scenarios.size() == 5);
  const Scenario& longest = demand.scenarios.back();
  REQUIRE(longest.weight == Approx(0.0112574).epsilon(1e-5));
  const DayPmf next = life_days(planned_life_h(600, 0.1, habit) * std::exp(2.8569700 * 0.6 * 0.1), 0.8 * 0.1, habit);
  const DayPmf first = life_days(20.5 * 24 * std::exp(2.8569700 * 0.6 * 0.2), 0.8 * 0.2, habit);
  for (const std::size_t day : {15U, 20U, 24U, 30U}) {
    REQUIRE(longest.streams[0].next[day] == Approx(next[day]).margin(1e-6));
    REQUIRE(longest.streams[0].first[day] == Approx(first[day]).margin(1e-6));
  }
}

TEST_CASE("The weights of the shared scenarios sum to one") {
  const Demand demand = cells_demand({{5, 0.05, 300, 0.1, {}}}, {}, 2);
  double weights = 0;
  for (const Scenario& scenario : demand.scenarios) weights += scenario.weight;
  REQUIRE(weights == Approx(1).margin(1e-14));
}

TEST_CASE("No side in use means no cells are needed") {
  const auto counts = used_by_day(cells_demand({}, {}, 2));
  REQUIRE(counts[399] == CountPmf{1.0});
}
