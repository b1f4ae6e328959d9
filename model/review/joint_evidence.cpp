// SPDX-License-Identifier: MIT
#include "model/review/joint_evidence.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>

namespace cellarer::review {

JointSums& JointSums::operator+=(const JointSums& other) {
  square += other.square;
  product += other.product;
  return *this;
}

JointSums& JointSums::operator-=(const JointSums& other) {
  square -= other.square;
  product -= other.product;
  return *this;
}

JointSums with_natural(const JointSums& sums, const JointSums::Square& natural) {
  const auto effects = sums.square.rows();
  const JointSums::Square grown = JointSums::Square::Identity(effects, effects) + sums.square * natural;
  const Eigen::PartialPivLU<JointSums::Square> factor(grown);
  // (I + A N)^-1 A is A (I + N A)^-1, and symmetric but for rounding.
  const JointSums::Square square = factor.solve(sums.square);
  return {(square + square.transpose()) / 2, factor.solve(sums.product)};
}

JointSums without_natural(const JointSums& sums, const JointSums::Square& natural) {
  return with_natural(sums, -natural);
}

Size JointBelief::weighed(const JointSums::Product& weights) const {
  return {weights.dot(mean), std::sqrt(std::max(weights.dot(cov * weights), 0.0))};
}

JointBelief posterior_effects(const JointSums& sums, const JointBelief& before) {
  // What the data say of how far the effects are from where they were believed to be.
  const auto seen = with_natural({sums.square, sums.product - sums.square * before.mean}, before.cov);
  return {before.mean + before.cov * seen.product, before.cov - before.cov * seen.square * before.cov};
}

}  // namespace cellarer::review
