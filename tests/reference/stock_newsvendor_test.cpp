// SPDX-License-Identifier: MIT
#include <cmath>

#include "model/stock/pmf.hpp"
#include "tests/support/catch.hpp"

// The order-up-to level of the newsvendor is the quantile of demand at the critical ratio p / (h + p). The same
// discrete quantile and tail that size an order are held against published answers for normal demand, cut into
// steps of 0.02 pieces.
using namespace cellarer::stock;

namespace {

constexpr double step = 0.02;

double normal_below(double x, double mean, double sd) { return 0.5 * std::erfc((mean - x) / (sd * std::sqrt(2.0))); }

CountPmf normal_demand(double mean, double sd) {
  CountPmf pmf(static_cast<std::size_t>((mean + 9 * sd) / step));
  for (std::size_t n = 0; n < pmf.size(); ++n) {
    const double middle = static_cast<double>(n) * step;
    pmf[n] = normal_below(middle + step / 2, mean, sd) - normal_below(middle - step / 2, mean, sd);
  }
  return pmf;
}

struct Answer {
  double order_up_to, cost;
};

/// Expected cost h E(S - D)+ + p E(D - S)+, with E(D - S)+ the sum of P(D > n) from S on.
Answer newsvendor(double holding, double shortage, double mean, double sd) {
  const CountPmf pmf = normal_demand(mean, sd);
  const int level = smallest_covering(pmf, shortage / (holding + shortage));
  double short_by = 0;
  for (int n = level; n < std::ssize(pmf); ++n) short_by += probability_above(pmf, n) * step;
  const double order_up_to = level * step;
  return {order_up_to, holding * (order_up_to - mean + short_by) + shortage * short_by};
}

}  // namespace

// Snyder & Shen, Fundamentals of Supply Chain Theory, example 4.3: holding 0.18, shortage 0.70, normal demand with
// mean 50 and sd 8: order up to 56.6039 at a cost of 1.9976.
TEST_CASE("The discrete quantile gives the textbook's order-up-to level and cost") {
  const Answer answer = newsvendor(0.18, 0.70, 50, 8);
  REQUIRE(answer.order_up_to == Approx(56.6039).margin(step));
  REQUIRE(answer.cost == Approx(1.9976).margin(0.001));
}

// stockpyl documentation: holding 2, shortage 18, mean 120, sd 10: order up to 132.8155 at a cost of 35.0997.
TEST_CASE("The discrete quantile gives the stockpyl example's order-up-to level and cost") {
  const Answer answer = newsvendor(2, 18, 120, 10);
  REQUIRE(answer.order_up_to == Approx(132.8155).margin(step));
  REQUIRE(answer.cost == Approx(35.0997).margin(0.01));
}
