// SPDX-License-Identifier: MIT
#pragma once
#include <algorithm>
#include <array>
#include <cstdint>

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
/// Tabulated at the curve's own steps; its accuracy against breath-by-breath integration is the duty room's.
class DepthScale {
 public:
  DepthScale(const LoadTable& table, double lambda);
  double travelled(double curve_depth) const;                                ///< g(y), y clamped to 0..1
  double depth(double travelled) const { return place(travelled).depth(); }  ///< the inverse, clamped to 0..1
  CurvePlace place(double travelled) const {                                 ///< the same
    if (travelled <= 0) return {0, 0};
    if (travelled >= travelled_[last]) return {last - 1, 1};
    const auto bin = std::min(static_cast<std::size_t>(travelled * bins_per_way_), bins - 1);
    std::size_t index = first_[bin];
    while (index > 0 && travelled_[index] > travelled) --index;  // a bin's edge, to the last bit
    // Most bins hold one step's end or none: asked without a branch, which would be guessed wrongly half of the time.
    index += static_cast<std::size_t>(travelled_[index + 1] < travelled);
    while (travelled_[index + 1] < travelled) ++index;  // it is below the last of them
    return {index, (travelled - travelled_[index]) / (travelled_[index + 1] - travelled_[index])};
  }

 private:
  static constexpr std::size_t bins = 256, last = LoadTable::points - 1;

  LoadTable::Table travelled_{};
  double bins_per_way_ = 0;
  std::array<std::uint8_t, bins> first_{};  ///< of equal parts of the whole way: the step in which each begins
};

}  // namespace cellarer::life
