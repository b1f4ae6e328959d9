// SPDX-License-Identifier: MIT
// Charge left in sets that came out: identities, and what a set's own forecast says of it.
#include "model/review/charge_left.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/life_world.hpp"

using namespace cellarer;
using namespace cellarer::testing;

namespace {

review::ChargesLeft left_of(const World& world, Instant as_of) {
  life::LoadTables tables;
  return review::charges_left(world.household, world.start - 24h, as_of, tables);
}

}  // namespace

TEST_CASE("a set that came out at half its forecast life had about half its charge left", "[charge-left]") {
  World world;
  const auto whole = world.left(world.start + 1h).remaining_h->p50 + 1;
  const auto half = world.start + std::chrono::minutes(static_cast<int>(30 * whole));
  world.change(Side::left, half);
  const auto left = left_of(world, half + 1h);
  REQUIRE(left.sets.size() == 1);
  CHECK(left.unknown == 0);
  const auto& share = left.sets[0].share;
  // Paced by night alone, use goes in steps of a day: to a tenth.
  CHECK(share.p50 == Approx(0.5).margin(0.1));
  CHECK(share.p05 < share.p50);
  CHECK(share.p50 < share.p95);
  CHECK(left.sets[0].cells == 2);
}

TEST_CASE("what ran out has nothing left, what is still in is not counted, what is not known is told",
          "[charge-left]") {
  World world;
  world.change(Side::left, world.start + 24h * 11, life::ChangeReason::ran_out);
  world.household.cell_changes[1].cells.profile.reset();
  world.household.cell_changes[1].cells.age = life::CellAge::unknown;
  world.change(Side::right, world.start + 24h * 5);
  const auto left = left_of(world, world.start + 24h * 12);
  REQUIRE(left.sets.size() == 1);
  CHECK(left.sets[0].share.p95 == 0);
  CHECK(left.unknown == 1);
  CHECK(left.unknown_cells == 2);  // its unit holds two in series
}
