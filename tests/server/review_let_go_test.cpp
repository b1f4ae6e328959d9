// SPDX-License-Identifier: MIT
// Of which agencies the technician's review keeps the homes' sets, and what it answers of the others.
#include "server/household_key.hpp"
#include "server/service/review_book.hpp"
#include "server/service/unit_history.hpp"
#include "tests/support/bench_world.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;
using namespace cellarer::testing;

namespace {

/// `north` is larger than a small agency, and the left side of its first home uses more since the eleventh set.
struct Country : BenchWorld {
  static constexpr std::size_t north_homes = service::small_agency + 2;

  Country() {
    settle_all("north", north_homes);
    sets("north/h-1", "left", 0, gauge_that_drops(8, 18));
    sets("north/h-1", "right", 120, gauge_that_drops(8, 0));
  }

  void settle_all(const std::string& agency, std::size_t homes) {
    for (std::size_t i = 1; i <= homes; ++i) {
      const auto number = std::to_string(i);
      settle(household_key(agency, "h-" + number), agency + "-u-" + number);
    }
  }

  void read_gauge(const std::string& where) { add(where, kind::reading, 9500, {{"side", "left"}, {"percent", 80}}); }

  /// Homes that the turn of all agencies has read.
  std::size_t turn(service::ReviewBook& book) {
    std::size_t all = 0;
    for (auto read = book.renew_next(ending); read; read = book.renew_next(ending)) all += *read;
    return all;
  }

  std::atomic<bool> ending{false};
};

}  // namespace

TEST_CASE("an agency whose homes were let go answers what was found, and is whole again after a renewal") {
  Country country;
  service::ReviewBook book(country.households);
  const auto nothing_yet = service::ReviewBook(country.households).of("north");
  CHECK_FALSE(nothing_yet.made);
  CHECK_FALSE(nothing_yet.fresh);
  REQUIRE(country.turn(book) == Country::north_homes);
  CHECK(book.homes_with_sets() == 0);
  country.read_gauge("north/h-2");

  const auto let_go = book.of("north");
  CHECK_FALSE(let_go.fresh);
  CHECK(let_go.made);
  CHECK(let_go.waiting == 1);
  REQUIRE(let_go.agency->findings.size() == 1);
  CHECK(let_go.agency->findings.front().household == "h-1");
  CHECK(let_go.agency->homes.size() == Country::north_homes);
  const auto units = service::unit_histories(*let_go.agency);
  CHECK(units.at("north-u-1").place().household == "h-1");
  CHECK(units.at("north-u-1").sets == 36);
  CHECK(let_go.agency->cell_types.at("lot-1") == "lr6-family");
  const auto homes = book.homes("north", units.at("north-u-1").homes());
  REQUIRE(homes.size() == 1);
  CHECK(homes.front()->history.records.size() == 36);

  CHECK(book.awaited());
  CHECK(book.renew_asked(country.ending) > 1);
  CHECK_FALSE(book.awaited());
  const auto whole = book.of("north");
  CHECK(whole.fresh);
  CHECK(whole.waiting == 0);
  REQUIRE(whole.agency->findings.size() == 1);
  CHECK(whole.agency->findings.front().document == let_go.agency->findings.front().document);
  CHECK(book.homes_with_sets() == Country::north_homes);
  // Its homes being there, an entry costs the reading of one.
  country.read_gauge("north/h-3");
  CHECK_FALSE(book.of("north").fresh);
  CHECK_FALSE(book.awaited());
  CHECK(book.renew_asked(country.ending) == 1);
  CHECK(book.of("north").fresh);
}

TEST_CASE("an agency that nobody asks about is reviewed once a day") {
  Country country;
  service::ReviewBook book(country.households);
  REQUIRE(country.turn(book) == Country::north_homes);
  country.read_gauge("north/h-2");
  CHECK(country.turn(book) == 0);
  CHECK(book.renew_asked(country.ending) == 0);
  country.clock.set(after_h(401 * 24));
  CHECK(country.turn(book) == Country::north_homes);
  CHECK(book.homes_with_sets() == 0);
  country.clock.set(after_h(402 * 24));
  CHECK(country.turn(book) == 0);  // nothing has changed
  CHECK(book.of("north").fresh);
}

TEST_CASE("no more homes are kept with their sets than are allowed, those of whom nobody asks let go first") {
  Country country;
  for (const char* agency : {"east", "south", "west"}) country.settle_all(agency, 3);
  constexpr std::size_t two_agencies = 7;
  service::ReviewBook book(country.households, two_agencies);
  for (const char* agency : {"east", "south", "west"}) CHECK(book.of(agency).fresh);
  CHECK(book.homes_with_sets() == 6);
  const auto in_south = book.home("south/h-1"), in_west = book.home("west/h-1");
  CHECK(book.of("south").fresh);
  country.read_gauge("east/h-1");
  CHECK(book.of("east").fresh);  // a small one, read by who asks
  CHECK(book.homes_with_sets() == 6);
  CHECK(book.home("south/h-1") == in_south);
  CHECK(book.home("west/h-1") != in_west);
  // One that is too large by itself keeps none, and takes no other's place.
  book.of("north");
  book.renew_asked(country.ending);
  CHECK(book.of("north").agency->findings.size() == 1);
  CHECK(book.of("north").fresh);
  CHECK(book.homes_with_sets() <= two_agencies);
  CHECK(book.home("south/h-1") == in_south);
}

TEST_CASE("nothing is left of an erased home whose sets had been let go") {
  Country country;
  service::ReviewBook book(country.households);
  country.turn(book);
  REQUIRE(book.of("north").agency->findings.size() == 1);
  country.households.erase("north/h-1", "");
  book.forget("north/h-1");
  CHECK(book.of("north").agency->findings.empty());
  CHECK(book.of("north").agency->homes.empty());
  CHECK_FALSE(book.of("north").fresh);
  book.renew_asked(country.ending);
  const auto after = book.of("north");
  CHECK(after.fresh);
  CHECK(after.agency->findings.empty());
  CHECK(after.agency->homes.size() == Country::north_homes - 1);
  CHECK(after.agency->review.units.empty());
  CHECK(service::unit_histories(*after.agency).count("north-u-1") == 0);
  CHECK(book.homes("north", {"h-1", "h-2"}).size() == 1);
  CHECK_THROWS_AS(book.home("north/h-1"), Problem);
}
