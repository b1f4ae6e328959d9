// SPDX-License-Identifier: MIT
#pragma once
#include "model/life/load_table.hpp"

namespace cellarer::life {

/// A set whose capacity differs from its type's: the difference stretches only the end of the curve.
///
/// Two cells of one brand agree in mid-life far better than at the end. With y the place on the type's curve, y_c the
/// place at which this load is cut off, and x the charge spent over the type's capacity,
///
///     x(y) = y                                               up to y = b y_c
///     x(y) = y + (lambda - 1) (y - b y_c) / (1 - b)          beyond,  b = 0.5
///
///   lambda (0.5, 1.6]  charge to cut-off of this set over its type's
///
/// so that x(y_c) = lambda y_c under every load, and x rises for every lambda above b: each charge has one place.
/// Source of the ramp: regression of the log hours to a voltage level on those to 0.90 V, two specimens of 13 brands at
/// 100 mA (data/cells). The slope is 0.19, 0.42, 0.66, 0.70, 0.78, 0.91 at a mean 0.47, 0.65, 0.79, 0.87, 0.93, 0.97 of
/// the life; the ramp has 0, 0.46, 0.73, 0.85, 0.92, 0.97.
/// This is the part that comes with (lambda - 1).
double stretch(double curve_depth, double cutoff_depth);

/// The way along the curve in terms of reference charge, for one unit's converter and one set's capacity:
///
///     g(y) = integral over y of x'(y) / c(y),     g(y_end) = g(y_start) + use * charge / Q
///
///   c(y)   the converter's mean factor at y while pacing (duty::mean_converter_factor; 1 for a constant current)
///   charge [mAh at the reference voltage], use: relative use, Q [mAh]
///
/// It has no table of its own: beyond the place at which the stretch begins, way and stretch of the load's table rise
/// together in one proportion, so that a charge has its way there, and that its place. Their accuracy against
/// breath-by-breath integration is the duty room's.
class DepthScale {
 public:
  /// The table must outlive it.
  DepthScale(const LoadTable& table, double lambda);
  DepthScale(const LoadTable&& table, double lambda) = delete;
  double travelled(double curve_depth) const {  ///< g(y), y clamped to 0..1
    const auto place = LoadTable::at_depth(curve_depth);
    return travelled(table_->way(place), table_->stretch(place));
  }
  /// The same to where the table has this way and stretch.
  double travelled(double way, double stretch) const { return way + stretched_ * stretch; }
  double depth(double travelled) const { return place(travelled).depth(); }  ///< the inverse, clamped to 0..1
  CurvePlace place(double travelled) const {                                 ///< the same
    if (travelled <= begins_) return table_->place(travelled);
    const double beyond = travelled - bent_;
    return table_->place(way_bent_ + beyond * (beyond < 0 ? per_bending_ : per_bent_));
  }

 private:
  const LoadTable* table_;
  double stretched_;               ///< lambda - 1
  double begins_, bent_;           ///< what is travelled at both ends of the step in which the stretch begins
  double way_bent_;                ///< the way at the latter
  double per_bending_, per_bent_;  ///< ways per travelled within that step, and beyond
};

}  // namespace cellarer::life
