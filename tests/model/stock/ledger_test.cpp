// SPDX-License-Identifier: MIT
#include "model/stock/ledger.hpp"

#include <algorithm>
#include <limits>

#include "tests/model/stock/stock_fixture.hpp"
#include "tests/support/catch.hpp"

// Expected quantities are sums done by hand on the rules in ledger.hpp.
using namespace cellarer::stock;
using namespace cellarer::stock::testing;

TEST_CASE("A count replaces its line and what happened to that line before no longer matters") {
  const Stock stock = stock_after({{noon(1), Happened::received, cells("A1", 24)},
                                   {noon(2), Happened::used, cells("A1", 30)},
                                   {noon(3), Happened::counted, cells("A1", 10)},
                                   {noon(4), Happened::used, cells("A1", 2)}},
                                  noon(9));
  REQUIRE(quantity_of(stock, "A1") == 8);
  REQUIRE(stock.please_count.empty());
}

TEST_CASE("A count leaves other lots, places and items alone") {
  const Stock stock = stock_after({{noon(1), Happened::received, cells("A1", 24)},
                                   {noon(1), Happened::received, cells("B2", 8)},
                                   {noon(1), Happened::received, cells("A1", 4, {}, "school bag")},
                                   {noon(1), Happened::received, {"tape", "A1", 3, {}, "home"}},
                                   {noon(3), Happened::counted, cells("A1", 10)}},
                                  noon(9));
  REQUIRE(quantity_of(stock, "B2") == 8);
  REQUIRE(quantity_of(stock, "A1", "school bag") == 4);
  REQUIRE(stock.lines.size() == 4);
  REQUIRE(stock.lines.back().item == "tape");
  REQUIRE(stock.lines.back().quantity == 3);
}

TEST_CASE("A late entry takes its place in time: before the count it changes nothing, after it it does") {
  std::vector<Event> events{{noon(1), Happened::received, cells("A1", 24)},
                            {noon(5), Happened::counted, cells("A1", 12)}};
  events.push_back({noon(3), Happened::used, cells("A1", 2)});
  REQUIRE(quantity_of(stock_after(events, noon(9)), "A1") == 12);
  events.push_back({noon(6), Happened::used, cells("A1", 2)});
  REQUIRE(quantity_of(stock_after(events, noon(9)), "A1") == 10);
}

TEST_CASE("The order of entering makes no difference when all times differ") {
  std::vector<Event> events{{noon(1), Happened::received, cells("A1", 24, month_of(2027, 1))},
                            {noon(2), Happened::used, cells({}, 2)},
                            {noon(3), Happened::received, cells("B2", 5, month_of(2026, 12))},
                            {noon(4), Happened::used, cells({}, 4)},
                            {noon(5), Happened::discarded, cells("A1", 1)}};
  const Stock forward = stock_after(events, noon(9));
  std::reverse(events.begin(), events.end());
  const Stock backward = stock_after(events, noon(9));
  REQUIRE(quantity_of(forward, "A1") == 21);
  REQUIRE(quantity_of(forward, "B2") == 1);
  REQUIRE(quantity_of(backward, "A1") == 21);
  REQUIRE(quantity_of(backward, "B2") == 1);
}

TEST_CASE("What happens after the moment asked for is left out") {
  const std::vector<Event> events{{noon(1), Happened::received, cells("A1", 24)},
                                  {noon(8), Happened::used, cells("A1", 2)}};
  REQUIRE(quantity_of(stock_after(events, noon(7)), "A1") == 24);
  REQUIRE(quantity_of(stock_after(events, noon(8)), "A1") == 22);
}

TEST_CASE("A use without a lot takes what expires first at its place, then elsewhere") {
  const std::vector<Event> received{{noon(1), Happened::received, cells("late", 4, month_of(2030, 1))},
                                    {noon(1), Happened::received, cells("soon", 2, month_of(2026, 9))},
                                    {noon(1), Happened::received, cells("bag", 2, month_of(2026, 5), "school bag")}};
  auto events = received;
  events.push_back({noon(2), Happened::used, cells({}, 4)});
  Stock stock = stock_after(events, noon(9));
  REQUIRE(quantity_of(stock, "soon") == -1);  // used up, so the line is gone
  REQUIRE(quantity_of(stock, "late") == 2);
  REQUIRE(quantity_of(stock, "bag", "school bag") == 2);
  events.push_back({noon(3), Happened::used, cells({}, 4)});
  stock = stock_after(events, noon(9));
  REQUIRE(stock.lines.size() == 1);
  REQUIRE(stock.lines[0].quantity == 0);
  REQUIRE(stock.please_count.empty());
}

TEST_CASE("A use without a lot takes expired cells last") {
  const Stock stock = stock_after({{noon(1), Happened::received, cells("old", 4, month_of(2026, 1))},
                                   {noon(1), Happened::received, cells("new", 4, month_of(2030, 1))},
                                   {noon(2), Happened::used, cells({}, 2)}},
                                  noon(9));
  REQUIRE(quantity_of(stock, "old") == 4);
  REQUIRE(quantity_of(stock, "new") == 2);
}

TEST_CASE("A set is never of two lots: an odd cell is passed over while another line holds a whole set") {
  std::vector<Event> events{{noon(1), Happened::received, cells("A1", 3, month_of(2026, 9))},
                            {noon(1), Happened::received, cells("B2", 4, month_of(2030, 1))},
                            {noon(2), Happened::used, cells({}, 4)}};
  Stock stock = stock_after(events, noon(9));
  REQUIRE(quantity_of(stock, "A1") == 1);
  REQUIRE(quantity_of(stock, "B2") == 2);
  events.push_back({noon(3), Happened::used, cells({}, 3)});
  stock = stock_after(events, noon(9));
  REQUIRE(stock.lines[0].quantity == 0);
}

TEST_CASE("Things other than cells are taken piece by piece") {
  const Stock stock = stock_after({{noon(1), Happened::received, {"tape", "A", 1, month_of(2026, 9), "home"}},
                                   {noon(1), Happened::received, {"tape", "B", 4, month_of(2030, 1), "home"}},
                                   {noon(2), Happened::used, {"tape", {}, 2, {}, "home"}}},
                                  noon(9));
  REQUIRE(quantity_of(stock, "A") == -1);
  REQUIRE(quantity_of(stock, "B") == 3);
}

TEST_CASE("A use larger than the stock is booked, reads as nothing left, and asks for a count") {
  const Stock stock =
      stock_after({{noon(1), Happened::received, cells("A1", 2)}, {noon(2), Happened::used, cells("A1", 4)}}, noon(9));
  REQUIRE(stock.lines.size() == 1);
  REQUIRE(stock.lines[0].quantity == 0);
  REQUIRE(stock.please_count == std::set<std::string>{cells_item});
}

TEST_CASE("A use without a lot that no line covers asks for a count and owes nothing") {
  std::vector<Event> events{{noon(2), Happened::used, cells({}, 2)}};
  Stock stock = stock_after(events, noon(9));
  REQUIRE(stock.lines.size() == 1);
  REQUIRE(stock.lines[0].quantity == 0);
  REQUIRE(stock.please_count.contains(cells_item));
  events.push_back({noon(3), Happened::received, cells("A1", 8)});
  stock = stock_after(events, noon(9));
  REQUIRE(quantity_of(stock, "A1") == 8);
  REQUIRE(stock.please_count.contains(cells_item));
}

TEST_CASE("What a named lot owes is set off against its receipt entered with a later time") {
  const Stock stock =
      stock_after({{noon(2), Happened::used, cells("A1", 2)}, {noon(3), Happened::received, cells("A1", 24)}}, noon(9));
  REQUIRE(quantity_of(stock, "A1") == 22);
  REQUIRE(stock.please_count.contains(cells_item));
}

TEST_CASE("Counting any lot of the item at that place settles what was wrong there") {
  const Stock stock = stock_after({{noon(2), Happened::used, cells("A1", 2)},
                                   {noon(3), Happened::counted, cells("B2", 8)},
                                   {noon(4), Happened::received, cells("A1", 4)}},
                                  noon(9));
  REQUIRE(stock.please_count.empty());
  REQUIRE(quantity_of(stock, "A1") == 4);
  REQUIRE(quantity_of(stock, "B2") == 8);
}

TEST_CASE("A named lot is looked for at other places, then among pieces whose lot is unknown") {
  const Stock stock = stock_after({{noon(1), Happened::received, cells("A1", 2, {}, "school bag")},
                                   {noon(1), Happened::received, cells({}, 10)},
                                   {noon(2), Happened::used, cells("A1", 4)}},
                                  noon(9));
  REQUIRE(quantity_of(stock, "A1", "school bag") == -1);
  REQUIRE(quantity_of(stock, {}) == 8);
  REQUIRE(stock.please_count.empty());
}

TEST_CASE("A named lot is taken at the place named before elsewhere") {
  const Stock stock = stock_after({{noon(1), Happened::received, cells("A1", 6)},
                                   {noon(1), Happened::received, cells("A1", 6, {}, "school bag")},
                                   {noon(2), Happened::used, cells("A1", 2, {}, "school bag")}},
                                  noon(9));
  REQUIRE(quantity_of(stock, "A1") == 6);
  REQUIRE(quantity_of(stock, "A1", "school bag") == 4);
}

TEST_CASE("A line that was used up takes the expiry of what is received next") {
  const Stock stock = stock_after({{noon(1), Happened::received, cells({}, 2, month_of(2026, 9))},
                                   {noon(2), Happened::used, cells({}, 2)},
                                   {noon(3), Happened::received, cells({}, 8, month_of(2030, 1))}},
                                  noon(9));
  REQUIRE(stock.lines.size() == 1);
  REQUIRE(stock.lines[0].expires == month_of(2030, 1));
}

TEST_CASE("Of two expiries given for one line the earlier holds, and a lot has one expiry at every place") {
  const Stock stock = stock_after({{noon(1), Happened::received, cells("A1", 2, month_of(2030, 1))},
                                   {noon(2), Happened::received, cells("A1", 2, month_of(2029, 6))},
                                   {noon(3), Happened::counted, cells("A1", 2, {}, "school bag")}},
                                  noon(9));
  REQUIRE(stock.lines.size() == 2);
  REQUIRE(stock.lines[0].expires == month_of(2029, 6));
  REQUIRE(stock.lines[1].expires == month_of(2029, 6));
}

TEST_CASE("Two changes that are perhaps the same are both taken from stock: the lower counts") {
  const Stock stock = stock_after({{noon(1), Happened::counted, cells("A1", 24)},
                                   {noon(2), Happened::used, cells("A1", 2)},
                                   {noon(2), Happened::used, cells("A1", 2)}},
                                  noon(9));
  REQUIRE(quantity_of(stock, "A1") == 20);
}

TEST_CASE("Quantities at the end of the integer range saturate instead of wrapping round") {
  const int largest = std::numeric_limits<int>::max();
  const Stock more = stock_after(
      {{noon(1), Happened::received, cells("A1", largest)}, {noon(2), Happened::received, cells("A1", largest)}},
      noon(9));
  REQUIRE(quantity_of(more, "A1") == largest);
  const Stock less = stock_after({{noon(1), Happened::used, cells("A1", largest)},
                                  {noon(2), Happened::used, cells("A1", largest)},
                                  {noon(3), Happened::used, cells({}, largest)}},
                                 noon(9));
  REQUIRE(less.lines.size() == 1);
  REQUIRE(less.lines[0].quantity == 0);
}

TEST_CASE("No events make no lines and ask for no count") {
  const Stock stock = stock_after({}, noon(9));
  REQUIRE(stock.lines.empty());
  REQUIRE(stock.please_count.empty());
}

TEST_CASE("What was received is used, discarded, unaccounted for or there, lot by lot") {
  const Stock stock = stock_after({{noon(1), Happened::received, cells("A1", 24)},
                                   {noon(2), Happened::used, cells("A1", 4)},
                                   {noon(3), Happened::discarded, cells("A1", 1)},
                                   {noon(4), Happened::counted, cells("A1", 16)},  // the books say 19
                                   {noon(5), Happened::used, cells("B2", 2)},      // nobody received B2
                                   {noon(6), Happened::received, cells({}, 8)},
                                   {noon(7), Happened::used, cells("C3", 6)},  // from the pieces of unknown lot
                                   {noon(8), Happened::used, cells({}, 30)}},  // 2 + 16 are there
                                  noon(9));
  const auto of = [&](const std::optional<std::string>& lot) { return stock.turnover.at({cells_item, lot}); };
  CHECK(of("A1").received == 24);
  CHECK(of("A1").used == 4 + 16);
  CHECK(of("A1").discarded == 1);
  CHECK(of("A1").unaccounted == 3);
  CHECK(of("B2").used == 2);
  CHECK(of("B2").unaccounted == -2);
  CHECK(of(std::nullopt).received == 8);
  CHECK(of(std::nullopt).used == 6 + 2 + 12);
  CHECK(of(std::nullopt).unaccounted == -12);
  for (const auto& [key, turnover] : stock.turnover) {
    std::int64_t there = 0;
    for (const auto& line : stock.lines) there += line.item == key.first && line.lot == key.second ? line.quantity : 0;
    CHECK(turnover.received == turnover.used + turnover.discarded + turnover.unaccounted + there);
  }
}
