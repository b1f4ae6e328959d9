// SPDX-License-Identifier: MIT
#pragma once
#include <cstddef>
#include <optional>
#include <vector>

#include "model/life/normal.hpp"

namespace cellarer::life {

/// One hypothesis of when something is crossed: at a reference charge, blurred by day-to-day use.
struct Crossing {
  double charge_mAh;
  double sd_mAh;  ///< > 0
  double weight;  ///< of all hypotheses together 1
};

/// The distribution of a crossing over all hypotheses: a mixture of Gaussians in reference charge.
class CrossingDistribution {
 public:
  CrossingDistribution() = default;
  /// Nothing was crossed by `survived_mAh`; the weights have taken that in already.
  CrossingDistribution(std::vector<Crossing> crossings, double survived_mAh);

  /// Probability that it is crossed by then; relative accuracy of the tail is that of erfc.
  double by(double charge_mAh) const;
  /// The charge by which it is crossed with this probability, by bisection to 1e-4 of its size. Where most halves lie
  /// is known before they are asked about, from a few places that are chosen better.
  double charge(double probability) const;
  bool empty() const { return places_.empty(); }

  /// This with probability `share`, `other` with the rest; `other` counts its charge from `origin_mAh` on.
  CrossingDistribution mixed_with(const CrossingDistribution& other, double share, double origin_mAh) const;

 private:
  /// What tells whether a term is nought, whole or in between at a charge: close together in memory, as most are asked
  /// nothing else.
  struct Place {
    double charge_mAh, per_sd_mAh, weight;
  };
  /// What it takes to answer `by` in between that does not depend on the charge.
  struct Seen {
    double survived_mAh;  ///< seen uncrossed there
    double z;             ///< the same in standard deviations
    double below;         ///< what normal_between subtracts there
    double alive;         ///< probability that it is not crossed there
  };
  std::vector<Place> places_;
  std::vector<Seen> seen_;  ///< one a place

  /// Of all places: charges within which it is crossed as surely as double precision tells, mean and standard
  /// deviation.
  struct Extent {
    double low = 0, high = 0, mean = 0, sd = 0;
  };
  Extent extent_;
  /// By charge, seen uncrossed at one charge: most places are nought or whole, and are not gone through one by one.
  struct InOrder {
    double survived_mAh, widest_sd_mAh;
    std::vector<double> weight_before;  ///< of the places before each one
  };
  std::optional<InOrder> in_order_;  ///< none: of two mixed

  Extent extent() const;
  double of_term(std::size_t k, double z, double charge_mAh, const NormalTail& tail) const;
  struct Bracket {
    double below, above;  ///< charges by which it is crossed with less than the probability, and with that or more
  };
  Bracket bracket(double probability, Bracket all, double near_enough) const;
};

}  // namespace cellarer::life
