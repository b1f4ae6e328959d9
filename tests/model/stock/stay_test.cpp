// SPDX-License-Identifier: MIT
#include "model/stock/stay.hpp"

#include <cmath>

#include "tests/model/stock/stock_fixture.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer::stock;
using namespace cellarer::stock::testing;

namespace {

const Date today = date_of(2026, 3, 10);

Demand both_sides() { return demand_of({fixed(4, 10, 400), fixed(7, 10, 400)}, 400, 2); }

Demand by_chance(double p) {
  Stream stream{DayPmf(100), DayPmf(100)};
  for (std::size_t d = 0; d < 100; ++d) {
    stream.first[d] = p * std::pow(1 - p, d);
    stream.next[d] = d == 0 ? 0 : p * std::pow(1 - p, d - 1);
  }
  return demand_of({stream, stream}, 100, 2);
}

}  // namespace

TEST_CASE("Packed are the sets that both sides need from the first day to the last, and a spare") {
  // Days 3 to 17: changes on 4, 7, 14 and 17.
  const Packing packing =
      pack(cells_item, {{cells("A1", 24)}, {}, {}}, both_sides(), today, date_of(2026, 3, 13), date_of(2026, 3, 27));
  REQUIRE(packing.units == 5);
  REQUIRE(packing.pieces == 10);
  REQUIRE(packing.odds == 1.0);
  REQUIRE(packing.take.size() == 1);
  REQUIRE(packing.take[0].quantity == 10);
  REQUIRE(packing.missing_pieces == 0);
}

TEST_CASE("Changes before the stay are not packed") {
  const Packing packing =
      pack(cells_item, {}, both_sides(), today, date_of(2026, 3, 18), date_of(2026, 3, 27), {0.999, 0});
  REQUIRE(packing.units == 2);  // days 8 to 17: 14 and 17
}

// Binomial tables, n = 14, p = 0.1: P(X <= 5) = 0.9985, P(X <= 6) = 0.9998.
TEST_CASE("A week without deliveries is packed for at the service level, with its odds") {
  const Packing packing = pack(cells_item, {}, by_chance(0.1), today, today, date_of(2026, 3, 16));
  REQUIRE(packing.units == 6 + 1);
  REQUIRE(packing.odds_unspared == Approx(0.9998).margin(5e-5));
  REQUIRE(packing.odds > packing.odds_unspared);
  REQUIRE(packing.missing_pieces == 14);
  const Packing lower = pack(cells_item, {}, by_chance(0.1), today, today, date_of(2026, 3, 16), {0.99, 0});
  REQUIRE(lower.units == 4);  // 0.9908
  REQUIRE(lower.odds == Approx(0.9908).margin(5e-5));
}

TEST_CASE("Sets are taken from lots that stay usable to the last day, the first to expire first, never split") {
  const Stock stock{{cells("old", 4, month_of(2026, 2)), cells("ends", 4, month_of(2026, 3)),
                     cells("soon", 3, month_of(2026, 6)), cells("late", 20, month_of(2030, 1), "unit case")},
                    {},
                    {}};
  // 13 March to 2 April: days 3 to 23: changes on 4, 7, 14, 17, and a spare.
  const Packing packing = pack(cells_item, stock, both_sides(), today, date_of(2026, 3, 13), date_of(2026, 4, 2));
  REQUIRE(packing.units == 5);
  REQUIRE(packing.take.size() == 2);
  REQUIRE(packing.take[0].lot == "soon");
  REQUIRE(packing.take[0].quantity == 2);
  REQUIRE(packing.take[1].lot == "late");
  REQUIRE(packing.take[1].quantity == 8);
}

TEST_CASE("What stock cannot give is said in pieces") {
  const Packing packing =
      pack(cells_item, {{cells("A1", 5)}, {}, {}}, both_sides(), today, date_of(2026, 3, 13), date_of(2026, 3, 27));
  REQUIRE(packing.take[0].quantity == 4);
  REQUIRE(packing.missing_pieces == 6);
}

TEST_CASE("A stay that is over packs nothing but the spare") {
  const Packing packing =
      pack(cells_item, {{cells("A1", 5)}, {}, {}}, both_sides(), today, date_of(2026, 2, 1), date_of(2026, 2, 9));
  REQUIRE(packing.units == 1);
  REQUIRE(packing.odds == 1.0);
}
