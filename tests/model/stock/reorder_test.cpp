// SPDX-License-Identifier: MIT
#include "model/stock/reorder.hpp"

#include <cmath>
#include <limits>

#include "tests/model/stock/stock_fixture.hpp"
#include "tests/support/catch.hpp"

// Expected values are worked by hand: days of use are written out beside each case.
using namespace cellarer::stock;
using namespace cellarer::stock::testing;

namespace {

const Date today = date_of(2026, 3, 10);

Stock stock_of(std::vector<Line> lines) { return {std::move(lines), {}, {}}; }

/// Both sides every ten days: left on days 4, 14, 24, ..., right on 7, 17, 27, ...
Demand both_sides() { return demand_of({fixed(4, 10, 400), fixed(7, 10, 400)}, 400, 2); }

/// One side: days 5, 15, 25, 35, ...
Demand one_side() { return demand_of({fixed(5, 10, 400)}, 400, 2); }

}  // namespace

TEST_CASE("With fixed lives stock runs out on the day of the first set that is not there") {
  const ItemForecast cells_left = reorder(cells_item, stock_of({cells("A1", 24)}), both_sides(), today);
  // 12 sets; the 13th is the left side's seventh, on day 64.
  REQUIRE(cells_left.quantity == 24);
  REQUIRE(cells_left.days.p05 == 64);
  REQUIRE(cells_left.days.p50 == 64);
  REQUIRE(cells_left.days.p95 == 64);
  // Must be there on day 63, 5 days' lead: day 58 is 7 May. To day 123: 12 sets a side, so 12 sets more.
  REQUIRE(cells_left.order_by == date_of(2026, 5, 7));
  REQUIRE_FALSE(cells_left.order_late);
  REQUIRE(cells_left.order_quantity == 24);
  REQUIRE(cells_left.expiring_unused == 0);
}

TEST_CASE("Without any stock the first change is short, and the order is late") {
  const ItemForecast none = reorder(cells_item, {}, both_sides(), today);
  REQUIRE(none.quantity == 0);
  REQUIRE(none.days.p05 == 4);
  REQUIRE(none.days.p95 == 4);
  REQUIRE(none.order_by == today);
  REQUIRE(none.order_late);
  REQUIRE(none.order_quantity == 28);  // to day 65: 7 + 6 sets, 26 cells, whole packs of 4
}

TEST_CASE("A lead time longer than the stock lasts makes the order late and says so") {
  ReorderPolicy policy;
  policy.lead_days = 70;
  const ItemForecast late = reorder(cells_item, stock_of({cells("A1", 24)}), both_sides(), today, policy);
  REQUIRE(late.order_by == today);
  REQUIRE(late.order_late);
  REQUIRE(late.order_quantity == 28);  // to day 130: 13 sets a side, 12 there: 14 sets, 28 cells
}

TEST_CASE("A lead time that just fits is not late") {
  ReorderPolicy policy;
  policy.lead_days = 63;
  const ItemForecast just = reorder(cells_item, stock_of({cells("A1", 24)}), both_sides(), today, policy);
  REQUIRE(just.order_by == today);
  REQUIRE_FALSE(just.order_late);
}

TEST_CASE("A set is never of two lots: the odd cell of each line counts as none") {
  const ItemForecast odd = reorder(cells_item, stock_of({cells("A1", 3), cells("B2", 5)}), both_sides(), today);
  REQUIRE(odd.quantity == 8);
  REQUIRE(odd.usable == 6);
  REQUIRE(odd.days.p50 == 17);  // sets on days 4, 7, 14; the fourth is missing on day 17
}

TEST_CASE("One cell at home and one in the school bag make no set") {
  const ItemForecast apart =
      reorder(cells_item, stock_of({cells("A1", 1), cells("A1", 1, {}, "school bag")}), both_sides(), today);
  REQUIRE(apart.usable == 0);
  REQUIRE(apart.days.p50 == 4);
}

TEST_CASE("Every place counts as stock and is listed") {
  const ItemForecast places =
      reorder(cells_item, stock_of({cells("A1", 2), cells("A1", 2, {}, "unit case"), cells("A1", 2, {}, "school bag")}),
              both_sides(), today);
  REQUIRE(places.usable == 6);
  REQUIRE(places.days.p50 == 17);
  REQUIRE(places.lines.size() == 3);
}

TEST_CASE("A lot that expires within the horizon is used first and its rest is lost") {
  // A1: 3 sets to 31 March (day 21), used on days 5 and 15; B2: days 25 and 35; the next is missing on day 45.
  const Stock stock = stock_of({cells("B2", 4, month_of(2033, 1)), cells("A1", 7, month_of(2026, 3))});
  const ItemForecast expiring = reorder(cells_item, stock, one_side(), today);
  REQUIRE(expiring.days.p05 == 45);
  REQUIRE(expiring.days.p95 == 45);
  REQUIRE(expiring.expiring.size() == 1);
  REQUIRE(expiring.expiring[0].line.lot == "A1");
  REQUIRE(expiring.expiring_unused == 3);  // one set and the odd cell
  REQUIRE(expiring.lines.front().lot == "A1");
}

TEST_CASE("Cells are usable on the last day of their month") {
  // 31 March is day 21.
  const Demand on_the_day = demand_of({fixed(21, 100, 60)}, 60, 2),
               the_day_after = demand_of({fixed(22, 100, 60)}, 60, 2);
  const Stock stock = stock_of({cells("A1", 2, month_of(2026, 3))});
  REQUIRE(reorder(cells_item, stock, on_the_day, today).days.p05 == 60);
  REQUIRE(reorder(cells_item, stock, the_day_after, today).days.p05 == 22);
}

TEST_CASE("Waste in the first lot does not count twice in the second") {
  // Days 5, 25, 45, 65: A1 (2 sets, to day 21) gives one and loses one; B2 (3 sets, to 30 April, day 51) gives two.
  const Demand demand = demand_of({fixed(5, 20, 400)}, 400, 2);
  const Stock stock = stock_of({cells("A1", 4, month_of(2026, 3)), cells("B2", 6, month_of(2026, 4))});
  const ItemForecast lost = reorder(cells_item, stock, demand, today);
  REQUIRE(lost.expiring.size() == 2);
  REQUIRE(lost.expiring[0].pieces == 2);
  REQUIRE(lost.expiring[1].pieces == 2);
  REQUIRE(lost.days.p50 == 65);
}

TEST_CASE("A later lot that is used up does not take back what an earlier one lost") {
  // Days 5, 25, 45: A1 (3 sets, to day 21) gives one and loses two; B2 (1 set, to day 51) is used on day 25.
  const Stock stock = stock_of({cells("A1", 6, month_of(2026, 3)), cells("B2", 2, month_of(2026, 4))});
  const ItemForecast lost = reorder(cells_item, stock, demand_of({fixed(5, 20, 400)}, 400, 2), today);
  REQUIRE(lost.expiring.size() == 1);
  REQUIRE(lost.expiring_unused == 4);
}

TEST_CASE("A lot that ends on the last day of the horizon is within it") {
  const Stock stock = stock_of({cells("A1", 4, month_of(2026, 3))});  // to day 21
  REQUIRE(reorder(cells_item, stock, demand_of({}, 22, 2), today).expiring_unused == 4);
  REQUIRE(reorder(cells_item, stock, demand_of({}, 21, 2), today).expiring_unused == 0);
}

TEST_CASE("Lines of one expiry at two places expire together") {
  const Stock stock =
      stock_of({cells("A1", 2, month_of(2026, 3)), cells("A1", 4, month_of(2026, 3), "school bag"), cells("B2", 2)});
  const ItemForecast both = reorder(cells_item, stock, one_side(), today);
  REQUIRE(both.expiring_unused == 2);  // three sets to day 21, used on days 5 and 15
  REQUIRE(both.days.p50 == 35);        // B2 on day 25
}

TEST_CASE("Cells past their month are shown apart and are not stock") {
  const ItemForecast old = reorder(cells_item, stock_of({cells("A1", 10, month_of(2026, 2))}), one_side(), today);
  REQUIRE(old.expired == 10);
  REQUIRE(old.quantity == 0);
  REQUIRE(old.usable == 0);
  REQUIRE(old.days.p50 == 5);
  REQUIRE(old.expiring_unused == 0);
}

TEST_CASE("Stock that outlasts the horizon needs no order yet") {
  const ItemForecast plenty = reorder(cells_item, stock_of({cells("A1", 400)}), both_sides(), today);
  REQUIRE(plenty.days.p05 == 400);
  REQUIRE_FALSE(plenty.order_by);
  REQUIRE(plenty.order_quantity == 0);
}

TEST_CASE("Quantities at the end of the integer range saturate") {
  const int largest = std::numeric_limits<int>::max();
  const ItemForecast huge =
      reorder(cells_item, stock_of({cells("A1", largest), cells("B2", largest)}), both_sides(), today);
  REQUIRE(huge.quantity == largest);
  REQUIRE(huge.days.p05 == 400);
  REQUIRE_FALSE(huge.order_by);
}

TEST_CASE("Orders are whole packs of the size given") {
  ReorderPolicy policy;
  policy.pack_size = 10;
  REQUIRE(reorder(cells_item, {}, both_sides(), today, policy).order_quantity == 30);
  policy.pack_size = 1;
  REQUIRE(reorder(cells_item, {}, both_sides(), today, policy).order_quantity == 26);
}

TEST_CASE("An item that asks for a count says so in its forecast") {
  Stock stock = stock_of({cells("A1", 4)});
  stock.please_count.insert(cells_item);
  REQUIRE(reorder(cells_item, stock, both_sides(), today).please_count);
  stock.please_count = {"tape"};
  REQUIRE_FALSE(reorder(cells_item, stock, both_sides(), today).please_count);
}

TEST_CASE("Lines of other items are left out") {
  const Stock stock = stock_of({{"tape", "A1", 50, {}, "home"}, cells("A1", 2)});
  REQUIRE(reorder(cells_item, stock, one_side(), today).quantity == 2);
}

// Binomial(n, 0.1), more than 3: 0.00046 for n = 5 days, 0.00127 for n = 6 (binomial tables). So day index 5 is the
// first beyond 0.1 %; a delivery must be there on day 4.
TEST_CASE("The order date keeps the service level") {
  Stream stream{DayPmf(60), DayPmf(60)};
  for (std::size_t d = 0; d < 60; ++d) {
    stream.first[d] = 0.1 * std::pow(0.9, d);
    stream.next[d] = d == 0 ? 0 : 0.1 * std::pow(0.9, d - 1);
  }
  ReorderPolicy policy;
  policy.lead_days = 2;
  const ItemForecast tape =
      reorder("tape", stock_of({{"tape", {}, 3, {}, "home"}}), demand_of({stream}, 60, 1), today, policy);
  REQUIRE(tape.order_by == date_of(2026, 3, 12));
  policy.service_level = 0.998;  // 7 days: 0.00273 beyond 0.2 %, so day 6
  const ItemForecast less =
      reorder("tape", stock_of({{"tape", {}, 3, {}, "home"}}), demand_of({stream}, 60, 1), today, policy);
  REQUIRE(less.order_by == date_of(2026, 3, 13));
}

TEST_CASE("No demand means that nothing runs out and everything expires unused") {
  const Stock stock = stock_of({cells("A1", 4, month_of(2026, 6))});
  const ItemForecast idle = reorder(cells_item, stock, demand_of({}, 400, 2), today);
  REQUIRE(idle.days.p05 == 400);
  REQUIRE_FALSE(idle.order_by);
  REQUIRE(idle.expiring_unused == 4);
}

// Identity: without expiry, stock of n units has run out by the first day on which more than n are used.
TEST_CASE("Days left are those of the counts over the whole horizon, whatever streams take, and however many units") {
  const auto every = [](std::size_t from, std::size_t to, int amount) {
    Stream stream{DayPmf(400, 0.0), DayPmf(400, 0.0), amount};
    for (std::size_t d = from; d < to; ++d) stream.first[d - 1] = stream.next[d] = 1 / static_cast<double>(to - from);
    return stream;
  };
  const Stream often = every(1, 6, 1), seldom = every(4, 90, 1), twos = every(3, 9, 2), none = every(1, 3, 0);
  const std::vector<std::vector<Stream>> all{{},
                                             {none},
                                             {seldom},
                                             {seldom, often},
                                             {none, twos},
                                             {twos, twos},
                                             {twos, often},
                                             {often, seldom, seldom},
                                             {none, none},
                                             {seldom, none},
                                             {every(1, 399, 1), every(2, 300, 1)}};
  for (const auto& streams : all) {
    const Demand demand{{{0.9, streams}, {0.1, {often}}}, 400, 1};
    const auto counts = used_by_day(demand);
    for (const int units : {0, 1, 2, 7, 20, 21, 60, 300}) {
      std::vector<double> run_out;
      for (const CountPmf& used : counts) run_out.push_back(probability_above(used, units));
      const DaysLeft days = reorder("tape", stock_of({{"tape", "A1", units, {}, "home"}}), demand, today).days;
      CAPTURE(streams.size(), units);
      REQUIRE(days.p05 == first_day_reaching(run_out, 0.05));
      REQUIRE(days.p50 == first_day_reaching(run_out, 0.50));
      REQUIRE(days.p95 == first_day_reaching(run_out, 0.95));
    }
  }
}
