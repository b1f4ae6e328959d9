// SPDX-License-Identifier: MIT
// What readings tell of a gauge's noise: identities of the score and of the information (Louis 1982, J. R. Stat. Soc. B
// 44, 226: the observed information is the complete one less the variance of the complete score).
#include "model/life/gauge_fit.hpp"

#include <cmath>

#include "model/life/normal.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer::life;

namespace {

struct Expected {
  double excess = 0, readings = 0, square_of_excess = 0;
};

/// Over all steps of this width [standard deviations of the prediction], each by how probable it is where the noise is
/// `noise` times what is expected.
Expected over_steps(double width, double offset, double noise = 1) {
  Expected sum;
  for (double low = offset - 40 * width; low < 40 * width; low += width) {
    const double from = normal_below(low), to = normal_below(low + width);
    const double probability = normal_below((low + width) / noise) - normal_below(low / noise);
    GaugeFit fit;
    fit.add(from, to);
    sum.excess += probability * fit.excess;
    sum.readings += probability * fit.readings;
    sum.square_of_excess += probability * fit.excess * fit.excess;
  }
  return sum;
}

}  // namespace

TEST_CASE("a number tells its square, and counts as one") {
  GaugeFit fit;
  fit.add(normal_below(1.5), normal_below(1.5));
  CHECK(fit.excess == Approx(1.5 * 1.5 - 1));
  CHECK(fit.readings == Approx(1));
}

TEST_CASE("two halves and the whole tell nothing of the noise, a tail and the middle tell it apart") {
  // By symmetry E[z^2 | z > 0] = 1; E[z^2 | z > a] = 1 + a f(a) / P(z > a).
  GaugeFit whole, half, tail, middle;
  whole.add(0, 1);
  CHECK(whole.excess == Approx(0).margin(1e-12));
  CHECK(whole.readings == Approx(0).margin(1e-12));
  half.add(0.5, 1);
  CHECK(half.excess == Approx(0).margin(1e-12));
  tail.add(normal_below(1.5), 1);
  CHECK(tail.excess == Approx(1.5 * normal_density(1.5) / normal_below(-1.5)));
  middle.add(normal_below(-1), normal_below(1));
  CHECK(middle.excess == Approx(-2 * normal_density(1) / (normal_below(1) - normal_below(-1))));
}

TEST_CASE("where the noise is as expected, steps say so on average, and count for the variance of what they say") {
  for (const double width : {0.8, 1.0, 1.5, 2.0, 3.0}) {
    for (const double offset : {0.0, 0.3, 0.7}) {
      const auto [excess, readings, square] = over_steps(width, offset * width);
      INFO(width << " standard deviations, offset " << offset);
      CHECK(excess == Approx(0).margin(0.05));
      CHECK(readings == Approx(square / 2).margin(0.05));
    }
  }
}

TEST_CASE("steps count as the header says") {
  // Fisher's information of log variance in a binned normal, by summing p s^2 over the bins; offsets averaged.
  const auto average = [](double width) {
    double readings = 0;
    for (int i = 0; i < 20; ++i) readings += over_steps(width, width * (i + 0.5) / 20).square_of_excess / 2 / 20;
    return readings;
  };
  CHECK(average(1) == Approx(0.86).margin(0.03));
  CHECK(average(2) == Approx(0.59).margin(0.03));
  CHECK(average(5) == Approx(0.22).margin(0.03));
}

TEST_CASE("noise that is larger than expected shows in steps, smaller noise too") {
  for (const double width : {1.0, 2.0, 3.0}) {
    CHECK(over_steps(width, 0.4 * width, 1.5).excess > 0.1);
    CHECK(over_steps(width, 0.4 * width, 0.6).excess < -0.1);
  }
}

TEST_CASE("a reading far outside counts as one in a thousand") {
  GaugeFit far, odd;
  far.add(1e-12, 1e-12);
  CHECK(far.excess == Approx(std::pow(normal_quantile(1e-3), 2) - 1));
  odd.add(1 - 1e-14, 1);
  CHECK(odd.excess <= std::pow(normal_quantile(1e-3), 2) + 1);
}
