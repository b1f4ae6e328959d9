// SPDX-License-Identifier: MIT
// What readings tell of a gauge's noise: identities of an estimating equation (its mean is nought under the truth, and
// moves with the parameter), for Huber's clipped square; integrals by Simpson's rule in place of closed forms.
#include "model/life/gauge_fit.hpp"

#include <algorithm>
#include <cmath>

#include "model/life/normal.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer::life;

namespace {

constexpr double clip = 1.959963984540054;  // the 97.5 % point (any table)

double clipped_square(double z) { return std::min(z * z, clip * clip); }

/// Mean of a function of a standard normal between two values, by Simpson's rule.
template <class Function>
double mean_between(double low, double high, const Function& of) {
  constexpr int pairs = 20000;
  const double from = std::max(low, -10.0), to = std::min(high, 10.0), step = (to - from) / (2 * pairs);
  double sum = 0, mass = 0;
  for (int i = 0; i <= 2 * pairs; ++i) {
    const double z = from + i * step, weight = (i == 0 || i == 2 * pairs ? 1 : i % 2 == 1 ? 4 : 2) * normal_density(z);
    sum += weight * of(z);
    mass += weight;
  }
  return sum / mass;
}

struct Expected {
  double excess = 0, readings = 0;
};

/// Over all steps of this width [standard deviations of the prediction], each by how probable it is where the noise is
/// `noise` times what is expected.
Expected over_steps(double width, double offset, double noise = 1) {
  Expected sum;
  for (double low = offset - std::ceil(40 / width) * width; low < 40; low += width) {
    const double from = normal_below(low), to = normal_below(low + width);
    const double probability = normal_between(low / noise, (low + width) / noise);
    GaugeFit fit;
    fit.add(from, to);
    sum.excess += probability * fit.excess;
    sum.readings += probability * fit.readings;
  }
  return sum;
}

GaugeFit number(double z) {
  GaugeFit fit;
  fit.add(normal_below(z), normal_below(z));
  return fit;
}

}  // namespace

TEST_CASE("a number counts as one and tells its square, one far outside no more than one in forty would") {
  const double all = mean_between(-10, 10, clipped_square);
  const double k = mean_between(-10, 10, [](double z) { return z * z * clipped_square(z); }) - all;
  for (const double z : {0.0, 0.7, 1.5, -1.9}) {
    CHECK(number(z).excess == Approx((z * z - all) * 2 / k).epsilon(1e-4));
    CHECK(number(z).readings == Approx(1));
  }
  CHECK(number(7).excess == Approx((clip * clip - all) * 2 / k).epsilon(1e-4));
  CHECK(number(-3).excess == Approx(number(7).excess));
  GaugeFit far;
  far.add(1 - 1e-14, 1);
  CHECK(far.excess == Approx(number(7).excess));
}

TEST_CASE("two halves and the whole tell nothing of the noise, a tail and the middle tell it apart") {
  const double all = mean_between(-10, 10, clipped_square);
  const double k = mean_between(-10, 10, [](double z) { return z * z * clipped_square(z); }) - all;
  GaugeFit whole, half;
  whole.add(0, 1);
  CHECK(whole.excess == Approx(0).margin(1e-12));
  CHECK(whole.readings == Approx(0).margin(1e-12));
  half.add(0.5, 1);
  CHECK(half.excess == Approx(0).margin(1e-12));
  for (const auto& [low, high] : {std::pair{1.5, 20.0}, {-1.0, 1.0}, {-20.0, 1.0}, {0.3, 2.5}, {2.2, 2.9}}) {
    INFO(low << " to " << high);
    GaugeFit fit;
    fit.add(normal_below(low), normal_below(high));
    const double mean = mean_between(low, high, clipped_square);
    const double both = mean_between(low, high, [](double z) { return z * z * clipped_square(z); });
    const double square = mean_between(low, high, [](double z) { return z * z; });
    CHECK(fit.excess == Approx((mean - all) * 2 / k).epsilon(1e-3));
    CHECK(fit.readings == Approx(1 - (both - mean * square) / k).epsilon(1e-3).margin(1e-3));
  }
}

TEST_CASE(
    "where the noise is as expected steps say so on average, and what they say moves with the noise as they count") {
  for (const double width : {0.5, 0.8, 1.0, 1.5, 2.0, 3.0}) {
    for (const double offset : {0.0, 0.3, 0.7}) {
      INFO(width << " standard deviations, offset " << offset);
      const auto [excess, readings] = over_steps(width, offset * width);
      CHECK(excess == Approx(0).margin(1e-3));
      constexpr double more = 1.01;
      const double moved =
          over_steps(width, offset * width, more).excess - over_steps(width, offset * width, 1 / more).excess;
      CHECK(moved == Approx(readings * 4 * std::log(more)).epsilon(0.03).margin(2e-4));
    }
  }
}

TEST_CASE("steps count as the header says") {
  const auto average = [](double width) {
    double readings = 0;
    for (int i = 0; i < 20; ++i) readings += over_steps(width, width * (i + 0.5) / 20).readings / 20;
    return readings;
  };
  CHECK(average(1) == Approx(0.85).margin(0.005));
  CHECK(average(2) == Approx(0.58).margin(0.005));
  CHECK(average(5) == Approx(0.21).margin(0.005));
}

TEST_CASE("noise that is larger than expected shows in steps, smaller noise too") {
  for (const double width : {1.0, 2.0, 3.0}) {
    CHECK(over_steps(width, 0.4 * width, 1.5).excess > 0.1);
    CHECK(over_steps(width, 0.4 * width, 0.6).excess < -0.1);
  }
}
