// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "model/cell/published.hpp"

/// One specimen's measured discharge as a table: the charge that a fresh cell gives, at a steady current, until its
/// loaded voltage falls to a level.
///
///     Q(V, I) = Q(V, 100) (100 / I)^(k - 1)      k = `exponent` below 100 mA (Peukert's, one for all levels)
///                                                k = k(V) above: through the measured charge at 500 mA
///
/// At 100 and 500 mA the measured hours come back at every level that was measured. Between levels Q follows a monotone
/// cubic in V (Fritsch and Carlson, SIAM J. Numer. Anal. 17 (1980), p. 238). Assumed, for want of figures: a fresh cell
/// stands at 1.58 V under load; the exponent between 25 and 100 mA holds for all levels and goes on to 10 mA,
/// below which the charge grows no more;
/// where data/cells keeps no 500 mA row (above 1.00 V) k(V) is that of 1.00 V. Nothing here comes from model/cell/curve
/// or its fit: that is what the world is for. Contacts of the measurement are inside, as they are in a unit.
namespace cellarer::bench {

class DischargeTable {
 public:
  static constexpr double fresh_V = 1.58;
  static constexpr double lowest_mA = 10;

  struct Level {
    double volts;
    double charge_100_mAh, charge_500_mAh;  ///< given until this level is reached
  };

  /// From the rows of one specimen.
  DischargeTable(const cell::PublishedCell& cell, const std::string& specimen, double exponent_below_100_mA);
  /// a (b / a)^spread, level by level, over the levels that both have; below 100 mA at every current too.
  DischargeTable(const DischargeTable& a, const DischargeTable& b, double spread);

  /// Charge [mAh] until `volts` at `current_mA` > 0; 0 at or above fresh_V; `volts` clamped to lowest_V from below.
  double charge_mAh(double volts, double current_mA) const;
  /// The voltage at a charge given and a current, by Newton's steps from a voltage near it.
  double volts(double charge_mAh, double current_mA, double near_V) const;
  /// The local exponent k at this level and current.
  double exponent(double volts, double current_mA) const;
  double lowest_V() const { return levels_.back().volts; }
  const std::vector<Level>& levels() const { return levels_; }  ///< falling; the first is fresh_V with 0 mAh

 private:
  std::vector<Level> levels_;
  std::vector<double> slope_;  ///< of charge_100 [mAh/V] at each level
  double exponent_;

  void take_slopes();
  double charge_100_mAh(double volts) const;
  double exponent_above(double volts) const;
};

}  // namespace cellarer::bench
