// SPDX-License-Identifier: MIT
#include <cmath>
#include <random>

#include <Eigen/Cholesky>

#include "model/cell/discharge.hpp"
#include "model/cell/family.hpp"
#include "tests/support/catch.hpp"

using namespace cellarer::cell;

TEST_CASE("every draw from the prior is a curve that a cell could have") {
  const FamilyPrior prior = lr6_prior();
  const Covariance factor = prior.covariance.llt().matrixL();
  std::mt19937 random(20260301);
  std::normal_distribution<double> normal;
  for (int draw = 0; draw < 200; ++draw) {
    Parameters z;
    for (int i = 0; i < parameter_count; ++i) z[i] = normal(random);
    const Curve curve = curve_of(prior.mean + factor * z);
    bool falls = true, rises = true, positive = true;
    for (std::size_t j = 0; j + 1 < Curve::points; ++j) {
      const double a = static_cast<double>(j) / (Curve::points - 1),
                   b = static_cast<double>(j + 1) / (Curve::points - 1);
      falls = falls && curve.open_circuit_V(b) < curve.open_circuit_V(a);
      rises = rises && curve.slow_ohm(b) + curve.fast_ohm(b) >= curve.slow_ohm(a) + curve.fast_ohm(a);
      positive = positive && curve.slow_ohm(a) > 0 && curve.fast_ohm(a) > 0;
    }
    CHECK(falls);
    CHECK(rises);
    CHECK(positive);
  }
}

TEST_CASE("the fresh fast resistance of the family lies within what is published") {
  // 0.15 to 0.30 ohm: Energizer E91 data sheet.
  const Curve curve = curve_of(lr6_prior().mean);
  CHECK(curve.fast_ohm(0) >= 0.15);
  CHECK(curve.fast_ohm(0) <= 0.30);
}

TEST_CASE("the covariance of the prior is positive definite") {
  CHECK(lr6_prior().covariance.llt().info() == Eigen::Success);
  CHECK(vague_lr6_prior().covariance.llt().info() == Eigen::Success);
}

TEST_CASE("another size has another capacity and resistances in inverse proportion") {
  const FamilyPrior lr6 = lr6_prior(), lr03 = prior_for("LR03", 0);
  CHECK(std::exp(lr03.mean[log_capacity]) == Approx(1200));
  CHECK(lr03.mean[log_capacity] + lr03.mean[log_fresh_ohm] == Approx(lr6.mean[log_capacity] + lr6.mean[log_fresh_ohm]));
  CHECK(lr03.covariance(log_capacity, log_capacity) > lr6.covariance(log_capacity, log_capacity));
  // A size that is not known takes the file's own figure.
  CHECK(std::exp(prior_for("LR99", 5000).mean[log_capacity]) == Approx(5000));
}

TEST_CASE("rechargeable cells are told by their letters") {
  // IEC 61951-1 and -2 (KR, HR), IEC 61960 (ICR, IFR ...).
  for (const char* designation : {"HR6", "KR6", "HR03", "ICR18650", "IFR14500"}) CHECK(is_rechargeable(designation));
  for (const char* designation : {"LR6", "LR03", "FR6", "CR2032", "R6"}) CHECK_FALSE(is_rechargeable(designation));
  CHECK(is_alkaline("LR6"));
  CHECK_FALSE(is_alkaline("6LR61"));
  CHECK_FALSE(is_alkaline("FR6"));
}
