// SPDX-License-Identifier: MIT
#include "model/stock/coming_changes.hpp"

#include <cstdlib>

#include "tests/support/catch.hpp"

using namespace cellarer::stock;

namespace {

using Coming = std::vector<ComingChange>;

ChangeHabit to_the_day() {
  ChangeHabit habit;
  habit.miss_probability = 0;
  habit.early_share = 0;
  return habit;
}

ComingChange for_certain(int day) { return {day, day, day}; }

/// Both sides as most homes have them: sets of some twelve days, known to a few per cent.
const std::vector<SideOutlook> usual_sides{{4, 0.12, 330, 0.06, {}}, {9, 0.1, 300, 0.06, {}}};

}  // namespace

TEST_CASE("Without spread the coming changes are the first date and every planned life after it") {
  // By hand: every 10 days from day 4, every 12 from day 7, at most four within six weeks.
  REQUIRE(coming_changes({4, 0, 0, 0, 240.0}, to_the_day()) ==
          Coming{for_certain(4), for_certain(14), for_certain(24), for_certain(34)});
  REQUIRE(coming_changes({7, 0, 0, 0, 288.0}, to_the_day()) ==
          Coming{for_certain(7), for_certain(19), for_certain(31)});
}

TEST_CASE("The first coming change is on the day of `change by` and never later than it") {
  const ChangeHabit usual;
  for (const int day : {0, 1, 4, 20}) {
    const auto changes = coming_changes({day, 0.3, 330, 0.06, {}}, usual);
    INFO(day);
    REQUIRE_FALSE(changes.empty());
    CHECK(changes[0].likely_day == day);
    CHECK(changes[0].latest_day == day);
    CHECK(changes[0].earliest_day <= day);
  }
}

TEST_CASE("Coming changes stand in order, each within its range and less sure than the one before") {
  for (const SideOutlook& side : usual_sides) {
    const auto changes = coming_changes(side, {});
    REQUIRE(changes.size() >= 3);
    CHECK(changes.size() <= 4);
    for (std::size_t k = 0; k < changes.size(); ++k) {
      INFO("change by day " << side.change_by_day << ", change " << k);
      CHECK(changes[k].earliest_day <= changes[k].likely_day);
      CHECK(changes[k].likely_day <= changes[k].latest_day);
      CHECK(changes[k].likely_day < ComingWeeks{}.days);
      if (k == 0) continue;
      CHECK(changes[k].earliest_day > changes[k - 1].earliest_day);
      CHECK(changes[k].likely_day > changes[k - 1].likely_day);
      CHECK(changes[k].latest_day > changes[k - 1].latest_day);
      CHECK(changes[k].latest_day - changes[k].earliest_day >= changes[k - 1].latest_day - changes[k - 1].earliest_day);
    }
  }
}

// The quantiles of the normal law at 0.1 and 0.9 are -1.2816 and 1.2816 (tables): a set planned for 10 days with a
// spread of 0.1 goes on the day that holds 10 exp(-0.12816) = 8.80, 10 and 10 exp(0.12816) = 11.37.
TEST_CASE("The range of a coming change holds four in five of the lives") {
  ChangeHabit habit = to_the_day();
  habit.shared_variance = 0;
  const auto changes = coming_changes({0, 0, 400, 0.1, 240.0}, habit);
  REQUIRE(changes.size() == 4);
  CHECK(changes[1] == ComingChange{8, 10, 11});
}

TEST_CASE("What both sides have in common widens the ranges and leaves the likely days") {
  ChangeHabit own = to_the_day(), shared = to_the_day();
  own.shared_variance = 0;
  shared.shared_variance = 1;
  const auto of_own = coming_changes({3, 0.1, 400, 0.15, 240.0}, own);
  const auto of_shared = coming_changes({3, 0.1, 400, 0.15, 240.0}, shared);
  REQUIRE(of_own.size() == 4);
  REQUIRE(of_shared.size() == 4);
  // Independent spreads add as squares, a common one as it is: wider by the fourth change.
  CHECK(of_shared[3].latest_day - of_shared[3].earliest_day > of_own[3].latest_day - of_own[3].earliest_day);
  CHECK(std::abs(of_shared[3].likely_day - of_own[3].likely_day) <= 2);
}

TEST_CASE("A visit that wants fresh cells is a change of its day, and those after it count from there") {
  const auto with_visits = [](const std::vector<int>& days) {
    return coming_changes({4, 0, 0, 0, 240.0}, to_the_day(), days);
  };
  REQUIRE(with_visits({17}) == Coming{for_certain(4), for_certain(14), for_certain(17), for_certain(27)});
  REQUIRE(with_visits({14}) == Coming{for_certain(4), for_certain(14), for_certain(24), for_certain(34)});
  REQUIRE(with_visits({2, 9, 11}) == Coming{for_certain(4), for_certain(9), for_certain(11), for_certain(21)});
  REQUIRE(with_visits({90}) == Coming{for_certain(4), for_certain(14), for_certain(24), for_certain(34)});
}

TEST_CASE("No change is told beyond the weeks asked for") {
  CHECK(coming_changes({44, 0.1, 330, 0.06, {}}, {}).empty());
  // Sets of a month: the change after next lies beyond six weeks.
  CHECK(coming_changes({9, 0, 0, 0, 30 * 24.0}, to_the_day()) == Coming{for_certain(9), for_certain(39)});
  // A visit takes the place of what comes after it: there too, none beyond the weeks.
  CHECK(coming_changes({9, 0, 0, 0, 30 * 24.0}, to_the_day(), {20}) == Coming{for_certain(9), for_certain(20)});
}

TEST_CASE("The same outlook gives the same coming changes") {
  for (const SideOutlook& side : usual_sides) REQUIRE(coming_changes(side, {}) == coming_changes(side, {}));
}
