// SPDX-License-Identifier: MIT
#include "model/life/normal.hpp"

#include <cmath>
#include <numbers>

#include "model/numerics/lanes.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer;

TEST_CASE("the table of normal tails says what erfc of the C library says") {
  // Of an argument z / sqrt 2 that is rounded to double precision erfc itself is known to z^2 rounding errors.
  for (double z = -12; z <= 12; z += 1.7e-4) {
    const double by_erfc = 0.5 * std::erfc(-z / std::numbers::sqrt2);
    CAPTURE(z);
    REQUIRE(std::abs(life::normal_below(z) - by_erfc) <= (1 + z * z) * 4e-16 * by_erfc);
  }
  REQUIRE(life::normal_below(0) == 0.5);
  REQUIRE(life::normal_below(INFINITY) == 1);
  REQUIRE(life::normal_below(-INFINITY) == 0);
  REQUIRE(std::isnan(life::normal_below(NAN)));
}

TEST_CASE("lanes reckon tails of the normal as erfc of the C library does") {
  using numerics::Lanes;
  for (double x = 0; x <= 37; x += 1.3e-3) {
    const double bell = std::exp(-0.5 * x * x), by_erfc = 0.5 * std::erfc(x / std::numbers::sqrt2);
    const auto tails =
        life::tail_above(Lanes{x, 0.1 * x, 0, x}, numerics::exp(-0.5 * Lanes{x * x, 0.01 * x * x, 0, 0}));
    CAPTURE(x, bell);
    // As above; the polynomial's own rounding errors are a few more.
    REQUIRE(std::abs(tails[0] - by_erfc) <= (1 + x * x) * 1e-15 * by_erfc);
    const double nearer = 0.5 * std::erfc(0.1 * x / std::numbers::sqrt2);
    REQUIRE(std::abs(tails[1] - nearer) <= (1 + 0.01 * x * x) * 1e-15 * nearer);
    REQUIRE(tails[2] == Approx(0.5).epsilon(1e-15));
  }
}

TEST_CASE("lanes reckon roots and powers of e as the C library does") {
  using namespace numerics;
  for (double x = -699; x <= 0; x += 1.3e-2) {
    const auto powers = exp(Lanes{x, x / 700});
    CAPTURE(x);
    REQUIRE(std::abs(powers[0] / std::exp(x) - 1) <= 5e-16);
    REQUIRE(std::abs(powers[1] / std::exp(x / 700) - 1) <= 5e-16);
    REQUIRE(sqrt(Lanes{-x, 1 - x})[0] == std::sqrt(-x));
    REQUIRE(sqrt(Lanes{-x, 1 - x})[1] == std::sqrt(1 - x));
  }
  REQUIRE(exp(Lanes{0, -1e5})[0] == 1);
  REQUIRE(exp(Lanes{0, -1e5})[1] == Approx(std::exp(-700)).epsilon(1e-12));
}
