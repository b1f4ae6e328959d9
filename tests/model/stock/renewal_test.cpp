// SPDX-License-Identifier: MIT
#include "model/stock/renewal.hpp"

#include <cmath>

#include "tests/model/stock/stock_fixture.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer::stock;
using namespace cellarer::stock::testing;

namespace {

/// Each day a use with probability p, whatever happened before.
Stream geometric(double p, int days) {
  Stream stream{DayPmf(static_cast<std::size_t>(days)), DayPmf(static_cast<std::size_t>(days))};
  for (std::size_t d = 0; d < stream.first.size(); ++d) {
    stream.first[d] = p * std::pow(1 - p, d);
    stream.next[d] = d == 0 ? 0.0 : p * std::pow(1 - p, d - 1);
  }
  return stream;
}

double binomial(int n, int k, double p) {
  return std::exp(std::lgamma(n + 1) - std::lgamma(k + 1) - std::lgamma(n - k + 1) + k * std::log(p) +
                  (n - k) * std::log1p(-p));
}

double at(const CountPmf& pmf, int n) { return n < std::ssize(pmf) ? pmf[static_cast<std::size_t>(n)] : 0.0; }

}  // namespace

// Identity: a Bernoulli process counted over n days is Binomial(n, p).
TEST_CASE("Geometric lives give binomial counts on every one of 400 days") {
  const auto counts = used_by_day(geometric(0.08, 400), -1, 400);
  for (const int day : {0, 1, 9, 100, 399}) {
    for (const int n : {0, 1, 2, 10, 32, 50}) {
      if (n > day + 1) continue;
      REQUIRE(at(counts[static_cast<std::size_t>(day)], n) == Approx(binomial(day + 1, n, 0.08)).margin(1e-12));
    }
  }
}

TEST_CASE("Geometric lives counted from a later day have no memory of what was before") {
  const auto counts = used_by_day(geometric(0.08, 200), 49, 200);
  REQUIRE(at(counts[49], 0) == 1.0);
  for (const int n : {0, 1, 5, 12}) REQUIRE(at(counts[149], n) == Approx(binomial(100, n, 0.08)).margin(1e-12));
}

TEST_CASE("Two sides with geometric lives together are binomial over twice the days") {
  const Scenario both{1.0, {geometric(0.1, 30), geometric(0.1, 30)}};
  const auto counts = used_by_day(both, -1, 30);
  for (const int n : {0, 3, 6, 15}) REQUIRE(at(counts[29], n) == Approx(binomial(60, n, 0.1)).margin(1e-12));
}

// Identity: if only every second event of a Bernoulli process is a use, P(n uses) = P(2n events) + P(2n + 1 events).
TEST_CASE("Lives that are the sum of two geometric ones count every second event") {
  const double p = 0.3;
  Stream stream{DayPmf(60, 0.0), DayPmf(60, 0.0)};
  for (std::size_t d = 1; d < 60; ++d) {
    stream.first[d] = static_cast<double>(d) * p * p * std::pow(1 - p, d - 1);
    if (d >= 2) stream.next[d] = static_cast<double>(d - 1) * p * p * std::pow(1 - p, d - 2);
  }
  const auto counts = used_by_day(stream, -1, 60);
  for (const int n : {0, 1, 4, 8, 12}) {
    REQUIRE(at(counts[49], n) == Approx(binomial(50, 2 * n, p) + binomial(50, 2 * n + 1, p)).margin(1e-12));
  }
}

TEST_CASE("Fixed lives give a step function") {
  const auto counts = used_by_day(fixed(3, 7, 60), -1, 60);
  for (int day = 0; day < 60; ++day) {
    const int steps = day < 3 ? 0 : 1 + (day - 3) / 7;
    REQUIRE(at(counts[static_cast<std::size_t>(day)], steps) == 1.0);
  }
}

TEST_CASE("Fixed lives counted from a later day count only what comes after it") {
  const auto counts = used_by_day(fixed(3, 7, 60), 10, 60);  // days 3, 10, 17, 24, ...
  REQUIRE(at(counts[16], 0) == 1.0);
  REQUIRE(at(counts[17], 1) == 1.0);
  REQUIRE(at(counts[24], 2) == 1.0);
}

TEST_CASE("Each use takes the stream's amount") {
  const auto counts = used_by_day(fixed(0, 5, 30, 3), -1, 30);
  REQUIRE(at(counts[4], 3) == 1.0);
  REQUIRE(at(counts[5], 6) == 1.0);
}

TEST_CASE("What never happens within the horizon is never used") {
  const auto counts = used_by_day(Stream{DayPmf(10, 0.0), DayPmf(10, 0.0)}, -1, 10);
  REQUIRE(counts[9].size() == 1);
  REQUIRE(counts[9][0] == 1.0);
}

TEST_CASE("Every count distribution sums to one") {
  Stream stream{DayPmf{0.2, 0.3, 0.1}, DayPmf{0.0, 0.1, 0.2, 0.3, 0.1}};  // with mass beyond the horizon
  for (const int after : {-1, 5}) {
    for (const CountPmf& pmf : used_by_day(stream, after, 50)) {
      double sum = 0;
      for (const double p : pmf) sum += p;
      REQUIRE(sum == Approx(1).margin(1e-12));
    }
  }
}

// By hand: uses on day 0; then after 1 or 2 days with a half each. By day 2: 0,1,2 (1/4), 0,1,3 (1/4), 0,2 (1/2).
TEST_CASE("A small case enumerated by hand") {
  const Stream stream{DayPmf{1.0}, DayPmf{0.0, 0.5, 0.5}};
  const auto counts = used_by_day(stream, -1, 4);
  REQUIRE(at(counts[2], 2) == Approx(0.75));
  REQUIRE(at(counts[2], 3) == Approx(0.25));
  const auto later = used_by_day(stream, 1, 4);  // after day 1: next use on day 2 (3/4) or 3 (1/4)
  REQUIRE(at(later[2], 1) == Approx(0.75));
  REQUIRE(at(later[2], 0) == Approx(0.25));
}

TEST_CASE("A mixture of scenarios weighs their counts") {
  const Demand demand{{{0.25, {fixed(1, 100, 10)}}, {0.75, {fixed(5, 100, 10)}}}, 10, 1};
  const auto counts = used_by_day(demand);
  REQUIRE(at(counts[2], 1) == Approx(0.25));
  REQUIRE(at(counts[5], 1) == Approx(1.0));
}
