// SPDX-License-Identifier: MIT
#include "model/stock/renewal.hpp"

#include <array>
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

/// Something that is spread over days `from` to `to`, no two alike, with mass beyond.
DayPmf spread(std::size_t from, std::size_t to, std::size_t days) {
  DayPmf pmf(days, 0.0);
  for (std::size_t d = from; d < std::min(to, days); ++d) pmf[d] = 1.0 / static_cast<double>(3 + (d * d) % 17 + to);
  return pmf;
}

/// Term by term.
DayPmf convolved(const DayPmf& day, const DayPmf& next) {
  DayPmf sum(day.size(), 0.0);
  for (std::size_t d = 0; d < day.size(); ++d) {
    for (std::size_t step = 0; step < next.size() && d + step < sum.size(); ++step)
      sum[d + step] += day[d] * next[step];
  }
  return sum;
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

TEST_CASE("The day of the next use is the convolution, cut at whatever horizon") {
  for (std::size_t days = 1; days <= 40; ++days) {
    for (const std::size_t from : {0, 1, 7, 8, 30}) {
      const DayPmf day = spread(from, from + 9, days);
      for (const DayPmf& next :
           {spread(1, 4, 60), spread(5, 40, days), DayPmf{0.0, 1.0}, DayPmf(days, 0.0), DayPmf{}}) {
        const DayPmf expected = convolved(day, next), following = next_use(day, next);
        CAPTURE(days, from, next.size());
        REQUIRE(following.size() == days);
        for (std::size_t d = 0; d < days; ++d) REQUIRE(following[d] == Approx(expected[d]).margin(1e-17));
      }
    }
  }
}

// Identity: of a Bernoulli process, k or more by day d is the upper tail of Binomial(d + 1, p).
TEST_CASE("So many uses or more are the tail of the binomial, and the last count is too rare to matter") {
  const double p = 0.05;
  for (const int days : {1, 7, 8, 100}) {
    const UsesAtLeast at_least = uses_at_least(geometric(p, days), -1, days);
    REQUIRE(at_least.back().back() < 1e-13);
    REQUIRE(at_least[at_least.size() - 2].back() >= 1e-13);
    for (int uses = 0; uses < std::ssize(at_least); ++uses) {
      double tail = 0;
      for (int n = days; n >= uses; --n) tail += binomial(days, n, p);
      REQUIRE(at_least[static_cast<std::size_t>(uses)].back() == Approx(tail).margin(1e-12));
    }
  }
}

TEST_CASE("Counts until some days are those of all days") {
  const Demand demand{{{0.4, {geometric(0.1, 90), geometric(0.2, 90)}}, {0.6, {geometric(0.3, 90)}}}, 90, 1};
  const auto every_day = used_by_day(demand, 5);
  const std::array days{40, 3, 89, 40};
  const auto until = used_until(demand, days, 5);
  REQUIRE(until.size() == days.size());
  for (std::size_t k = 0; k < days.size(); ++k) {
    const auto& expected = every_day[static_cast<std::size_t>(days[k])];
    for (int n = 0; n < 60; ++n) REQUIRE(at(until[k], n) == Approx(at(expected, n)).margin(1e-12));
  }
  REQUIRE(used_until(demand, {}).empty());
}

TEST_CASE("Uses a day are one in a mean step; a step that does not end is one of the horizon") {
  REQUIRE(uses_a_day(fixed(3, 7, 60), 60) == Approx(1.0 / 7));
  REQUIRE(uses_a_day(geometric(0.25, 400), 400) == Approx(0.25));
  REQUIRE(uses_a_day(Stream{DayPmf{1.0}, DayPmf{0.0, 0.5}}, 60) == Approx(1 / (0.5 + 30)));
  REQUIRE(uses_a_day(Stream{DayPmf{0.5, 0.5}, {}}, 50) == Approx(1.0 / 50));  // once, never again
}
