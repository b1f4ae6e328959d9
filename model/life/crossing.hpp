// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

namespace cellarer::life {

/// One hypothesis of when something is crossed: at a reference charge, blurred by day-to-day use.
struct Crossing {
  double charge_mAh;
  double sd_mAh;                 ///< > 0
  double weight;                 ///< of all hypotheses together 1
  double survived_mAh = -1e300;  ///< seen uncrossed at that charge: nothing is crossed before
};

/// The distribution of a crossing over all hypotheses: a mixture of Gaussians in reference charge.
class CrossingDistribution {
 public:
  CrossingDistribution() = default;
  /// Nothing was crossed by `survived_mAh`; the weights have taken that in already.
  CrossingDistribution(std::vector<Crossing> crossings, double survived_mAh);

  /// Probability that it is crossed by then; relative accuracy of the tail is that of erfc.
  double by(double charge_mAh) const;
  /// The charge by which it is crossed with this probability, by bisection to 1e-4 of its size.
  double charge(double probability) const;
  bool empty() const { return terms_.empty(); }

  /// This with probability `share`, `other` with the rest; `other` counts its charge from `origin_mAh` on.
  CrossingDistribution mixed_with(const CrossingDistribution& other, double share, double origin_mAh) const;

 private:
  /// A crossing with what it takes to answer `by` that does not depend on the charge.
  struct Term {
    Crossing crossing;
    double seen_z;       ///< where it was last seen uncrossed, in standard deviations
    double before_seen;  ///< what normal_between subtracts there
    double alive;        ///< probability that it is not crossed there
  };
  std::vector<Term> terms_;
};

}  // namespace cellarer::life
