// SPDX-License-Identifier: MIT
#include "model/life/crossing.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "tests/support/catch.hpp"

using namespace cellarer::life;

namespace {

/// Hypotheses about so many hundred mAh, in two heaps.
std::vector<Crossing> two_heaps(double apart_mAh, double other_weight) {
  std::vector<Crossing> crossings;
  for (int k = 0; k < 40; ++k) {
    const double place = 2000 + 15 * std::sin(7.0 * k) * k + (k % 2 == 0 ? 0 : apart_mAh);
    crossings.push_back({place, 20.0 + k % 5, (k % 2 == 0 ? 1 - other_weight : other_weight) / 20});
  }
  return crossings;
}

/// Halving without knowing anything beforehand.
double halved(const CrossingDistribution& crossing, double probability, double low, double high) {
  const double enough = 1e-4 * (high - low) + 1e-9;
  while (high - low > enough) {
    const double middle = 0.5 * (low + high);
    (crossing.by(middle) < probability ? low : high) = middle;
  }
  return low;
}

}  // namespace

TEST_CASE("the charge by which something is crossed is that of plain halving, to the last bit") {
  for (const double apart_mAh : {0.0, 150.0, 1500.0}) {
    for (const double other_weight : {0.5, 0.02, 1e-7}) {
      const auto crossings = two_heaps(apart_mAh, other_weight);
      double low = 0, high = 0;
      for (const auto& crossing : crossings) {
        low = std::min(low, crossing.charge_mAh - 9 / (1 / crossing.sd_mAh));
        high = std::max(high, crossing.charge_mAh + 9 / (1 / crossing.sd_mAh));
      }
      for (const double survived_mAh : {0.0, 1950.0}) {
        const CrossingDistribution distribution(crossings, survived_mAh);
        for (const double probability : {1e-9, 1e-5, 0.05, 0.5, 0.95, 0.99999}) {
          CAPTURE(apart_mAh, other_weight, survived_mAh, probability);
          CHECK(distribution.charge(probability) == halved(distribution, probability, low, high));
        }
      }
    }
  }
}

TEST_CASE("the probability of a crossing is the sum over its hypotheses, in whatever order and however mixed") {
  // The mixture's own formula, term by term, by erfc of the C library.
  const auto tail = [](double z) { return 0.5 * std::erfc(z / std::numbers::sqrt2); };
  const auto summed = [&](const std::vector<Crossing>& crossings, double charge_mAh, double survived_mAh) {
    double sum = 0;
    for (const auto& [at_mAh, sd_mAh, weight] : crossings) {
      const double z = (charge_mAh - at_mAh) / sd_mAh, seen = (survived_mAh - at_mAh) / sd_mAh;
      if (charge_mAh > survived_mAh) sum += weight * (1 - tail(z) / tail(seen));
    }
    return sum;
  };
  for (const double apart_mAh : {0.0, 150.0, 1500.0}) {
    for (const double survived_mAh : {0.0, 1950.0}) {
      auto crossings = two_heaps(apart_mAh, 0.02);
      std::mt19937 random(7);
      std::shuffle(crossings.begin(), crossings.end(), random);
      double total = 0;  // the weights take in that nothing was crossed by then
      for (auto& crossing : crossings)
        total += crossing.weight *= tail((survived_mAh - crossing.charge_mAh) / crossing.sd_mAh);
      for (auto& crossing : crossings) crossing.weight /= total;
      const CrossingDistribution distribution(crossings, survived_mAh);
      const auto mixed = distribution.mixed_with(CrossingDistribution(two_heaps(150, 0.5), 0), 0.3, 100);
      for (double charge_mAh = 0; charge_mAh < 5000; charge_mAh += 37) {
        CAPTURE(apart_mAh, survived_mAh, charge_mAh);
        const double expected = summed(crossings, charge_mAh, survived_mAh);
        CHECK(distribution.by(charge_mAh) == Approx(expected).margin(1e-12));
        const double of_other = summed(two_heaps(150, 0.5), charge_mAh - 100, 0);
        CHECK(mixed.by(charge_mAh) == Approx(0.3 * expected + 0.7 * of_other).margin(1e-12));
      }
    }
  }
}
