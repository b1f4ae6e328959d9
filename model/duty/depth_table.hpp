// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "model/duty/set_voltage.hpp"
#include "model/duty/timeline.hpp"

/// How deep a set is after a charge, and back: the breath-averaged integration.
///
///     dx/dq = use c(x) / Q          x = 0 at q = 0
///
///   q    reference charge [mAh], as a ChargeClock counts it: the profile's currents, without use or converter
///   c    mean_converter_factor(x): what the converter draws more or less at the set's voltage
///   Q    the cell's capacity [mAh]
///
/// One charge-weighted breath stands for 17 000 breaths a day. Agreement with breath-by-breath integration
/// that has its own slow current and its own converter: better than 0.1 % of the life, at 8 to 30 breaths
/// a minute, for the three converters (tests/reference). That proves the numerics, not the physics.
namespace cellarer::duty {

/// A load and its share of the reference charge.
struct LoadShare {
  BreathLoad load;
  double share = 1;
};

/// The loads of some stretches, each with its share of their charge; equal loads are put together. Empty
/// where nothing was drawn.
std::vector<LoadShare> load_shares(const std::vector<Stretch>& stretches);

/// Tabulated at the curve's own steps of depth, Simpson's rule between (error below 1e-7 of the charge),
/// linear in between (below 1e-5). Cost: 400 solutions of a breath and load, some tens of microseconds.
class DepthTable {
 public:
  /// For a side that paces with one load; standby beside it is charged at the same factor.
  DepthTable(const Stimulator& stimulator, const cell::Curve& curve, const BreathLoad& pacing, double use);

  /// For loads that take turns within days (nights of pacing, days of standby): c is the mean of their
  /// factors by charge. `shares` not empty, of sum 1.
  DepthTable(const Stimulator& stimulator, const cell::Curve& curve, const std::vector<LoadShare>& shares, double use);

  /// Reference charge from fresh to `depth` [mAh]; depth is clamped to 0..1.
  double charge_to(double depth) const;
  /// Depth after `charge_mAh` from fresh; clamped to 0..1. Inverse of charge_to to rounding.
  double depth_after(double charge_mAh) const;

 private:
  std::vector<double> charge_mAh_;  ///< at depth i / (points - 1)
};

/// Hours of pacing without a pause from fresh to cut-off (cutoff_depth).
double hours_to_cutoff(const Stimulator& stimulator, const cell::Curve& curve, const BreathLoad& load, double use = 1);

}  // namespace cellarer::duty
