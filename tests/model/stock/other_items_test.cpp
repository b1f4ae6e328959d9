// SPDX-License-Identifier: MIT
#include "model/stock/other_items.hpp"

#include <numeric>

#include "tests/model/stock/stock_fixture.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer::stock;
using namespace cellarer::stock::testing;

namespace {

/// Left on days 4, 14, 24, ..., right on 7, 17, 27, ...
Demand changes() { return demand_of({fixed(4, 10, 100), fixed(7, 10, 100)}, 100, 2); }

ItemUse every(double days, double relative_sd, std::optional<double> since = 0.0) {
  return {ByInterval{days, relative_sd, 1, since}, {}};
}

}  // namespace

TEST_CASE("An item by interval is used again and again, counted from the last time") {
  const auto counts = used_by_day(item_demand(every(30, 0, 10), changes()));  // days 20, 50, 80
  REQUIRE(counts[19] == CountPmf{1.0});
  REQUIRE(counts[20][1] == 1.0);
  REQUIRE(counts[99][3] == 1.0);
}

TEST_CASE("An item that is overdue is used today") {
  REQUIRE(used_by_day(item_demand(every(30, 0.15, 45), changes()))[0][1] == 1.0);
}

TEST_CASE("An item per cell change follows both sides") {
  const auto counts = used_by_day(item_demand({{}, PerCellChange{2}}, changes()));
  REQUIRE(counts[3] == CountPmf{1.0});
  REQUIRE(counts[4][2] == 1.0);
  REQUIRE(counts[17][8] == 1.0);  // days 4, 7, 14, 17
}

// Identity: by a process that is in its steady state n / mean interval are used in n days. Eighty changes in 400 days.
TEST_CASE("Of an item of which each change takes a part, that part of the changes is used") {
  const Demand often = demand_of({fixed(4, 10, 400), fixed(7, 10, 400)}, 400, 2);
  const auto mean_used = [&](double pieces) {
    const auto counts = used_by_day(item_demand({{}, PerCellChange{pieces}}, often));
    double mean = 0;
    for (std::size_t n = 0; n < counts[399].size(); ++n) mean += static_cast<double>(n) * counts[399][n];
    return mean;
  };
  REQUIRE(mean_used(1) == Approx(80));
  REQUIRE(mean_used(0.1) == Approx(8).epsilon(1e-6));
  REQUIRE(mean_used(1.5) == Approx(120).epsilon(1e-6));
}

TEST_CASE("An item may be used by interval and per change together") {
  const auto counts = used_by_day(item_demand({ByInterval{30, 0, 1, 10}, PerCellChange{1}}, changes()));
  REQUIRE(counts[20][5] == 1.0);  // 4, 7, 14, 17 and 20
}

TEST_CASE("Items are counted singly, whatever a set of cells takes") {
  REQUIRE(item_demand({{}, PerCellChange{1}}, changes()).pieces_per_unit == 1);
}

TEST_CASE("An item without any use is never needed") {
  REQUIRE(used_by_day(item_demand({}, changes()))[99] == CountPmf{1.0});
}

// Mean and spread of the log-normal are the ones asked for; rounding to whole days adds a twelfth of a day squared.
TEST_CASE("Intervals have the mean and the spread asked for") {
  const Demand demand = item_demand(every(20, 0.15), demand_of({}, 400, 2));
  const DayPmf& next = demand.scenarios[0].streams[0].next;
  double mean = 0, square = 0;
  for (std::size_t d = 0; d < next.size(); ++d) {
    mean += static_cast<double>(d) * next[d];
    square += static_cast<double>(d * d) * next[d];
  }
  REQUIRE(mean == Approx(20).epsilon(1e-6));
  REQUIRE(square - mean * mean == Approx(9 + 1.0 / 12).epsilon(1e-3));
}

TEST_CASE("A use that has not come yet is still to come") {
  const Demand demand = item_demand(every(20, 0.15, 17), demand_of({}, 400, 2));
  const DayPmf& first = demand.scenarios[0].streams[0].first;
  REQUIRE(std::accumulate(first.begin(), first.end(), 0.0) == Approx(1).margin(1e-9));
}

// Identity: from the stationary start the mean number of uses in n days is n / mean interval exactly, spread or not.
TEST_CASE("When the last use is not known every day is as likely as another") {
  for (const double relative_sd : {0.0, 0.3}) {
    const auto counts = used_by_day(item_demand(every(20, relative_sd, {}), demand_of({}, 400, 2)));
    for (const int day : {0, 9, 59, 399}) {
      double mean = 0;
      const CountPmf& pmf = counts[static_cast<std::size_t>(day)];
      for (std::size_t n = 0; n < pmf.size(); ++n) mean += static_cast<double>(n) * pmf[n];
      REQUIRE(mean == Approx((day + 1) / 20.0).epsilon(1e-6));
    }
  }
}

TEST_CASE("An interval longer than the horizon is due within it with its share only") {
  const auto counts = used_by_day(item_demand(every(1000, 0, {}), demand_of({}, 400, 2)));
  REQUIRE(counts[399][1] == Approx(0.4));
}

TEST_CASE("An interval of one day is one piece a day") {
  const auto counts = used_by_day(item_demand(every(1, 0, 0), changes()));
  REQUIRE(counts[99][99] == 1.0);  // days 1 to 99
}
