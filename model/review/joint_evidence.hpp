// SPDX-License-Identifier: MIT
#pragma once
#include <Eigen/Core>

#include "model/review/evidence.hpp"

namespace cellarer::review {

/// What data say of several effects at once (a unit's two channels, in use and in what their gauges show): the sums of
/// evidence.hpp with a matrix for A and a vector for B. Sums of homes that do not otherwise depend on each other add.
struct JointSums {
  static constexpr int most_effects = 4;
  using Square = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, 0, most_effects, most_effects>;
  using Product = Eigen::Matrix<double, Eigen::Dynamic, 1, 0, most_effects, 1>;

  Square square;
  Product product;

  explicit JointSums(Eigen::Index effects) : square(Square::Zero(effects, effects)), product(Product::Zero(effects)) {}
  JointSums(Square square_, Product product_) : square(std::move(square_)), product(std::move(product_)) {}
  JointSums& operator+=(const JointSums& other);
  JointSums& operator-=(const JointSums& other);
  /// Of one size that moves the effects by `moves` times itself.
  Sums along(const Product& moves) const { return {moves.dot(square * moves), moves.dot(product)}; }
};

/// The effects also vary by themselves, N(0, natural), which adds to the noise of what is asked of them (Woodbury):
///
///     A -> A (I + natural A)^-1,   B -> (I + A natural)^-1 B
JointSums with_natural(const JointSums& sums, const JointSums::Square& natural);

/// The way back: sums in whose noise the natural effects are, made free of them. So homes that share a unit or a lot
/// share one draw of its natural effect, though each was whitened with it.
JointSums without_natural(const JointSums& sums, const JointSums::Square& natural);

/// The effects given the data, N(mean, cov) before.
struct JointBelief {
  JointSums::Product mean;
  JointSums::Square cov;
  /// Of their sum, each times its weight.
  Size weighed(const JointSums::Product& weights) const;
};
JointBelief posterior_effects(const JointSums& sums, const JointBelief& before);

}  // namespace cellarer::review
