// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <cstddef>

#include "model/cell/curve.hpp"
#include "model/duty/load.hpp"

namespace cellarer::life {

/// A set whose capacity differs from its type's: the difference stretches only the end of the curve.
///
/// Two cells of one brand, and two brands, agree in mid-life far better than at the end (correlation of the log
/// hours to 0.9 V with those to 1.2, 1.1 and 1.0 V within a brand: -0.08, 0.42, 0.84). So with y the place on the
/// type's curve and x the charge spent over the type's capacity,
///
///     x(y) = y (1 + (lambda - 1) w(y)),    w = 0 up to y = 0.35, 1 from y = 0.80, smooth between
///
///   lambda [0.5, 1.6]  capacity of this set over its type's
///
/// x(y) rises for every lambda of that range, so each charge has one place.
double stretched_depth(double curve_depth, double lambda);

/// The way along the curve in terms of reference charge, for one unit's converter:
///
///     g(y) = integral over y of x'(y) / c(y),     g(y_end) = g(y_start) + use * charge / Q
///
///   c(y)   the converter's mean factor at y while pacing (duty::mean_converter_factor; 1 for a constant current)
///   charge [mAh at the reference voltage], use: relative use, Q [mAh]
///
/// Tabulated at the curve's own steps; its accuracy against breath-by-breath integration is the duty room's.
class DepthScale {
 public:
  DepthScale(const duty::Stimulator& unit, const cell::Curve& curve, const duty::BreathLoad& pacing, double lambda);
  double travelled(double curve_depth) const;  ///< g(y), y clamped to 0..1
  double depth(double travelled) const;        ///< the inverse, clamped to 0..1

 private:
  static constexpr std::size_t points = 201;
  std::array<double, points> travelled_{};
};

}  // namespace cellarer::life
