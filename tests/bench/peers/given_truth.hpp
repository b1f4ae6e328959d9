// SPDX-License-Identifier: MIT
#pragma once

namespace cellarer::bench {

/// One thing that a forecaster is told of each set before its first reading, but for rounding, so that the gap between
/// ours and the best possible is split. Ours and the best possible are told the same. It is what lasts over the set's
/// life; days and the gauge's wander stay unknown. The plan is known as it is in the reference world: nothing there
/// departs from it.
enum class GivenTruth {
  none,
  cell,   ///< the charge that the set gives to cut-off: its capacity, and how far the type's curve is off at its end
  gauge,  ///< by how much its unit's channel shows too much
  use     ///< how much it draws over the profile: side, channel and set
};

/// How well it is known: rounding, of logarithms and of points.
inline constexpr double told_log_sd = 0.002, told_points_sd = 0.1;

inline const char* name_of(GivenTruth given) {
  switch (given) {
    case GivenTruth::cell:
      return "its cells";
    case GivenTruth::gauge:
      return "its gauge's bias";
    case GivenTruth::use:
      return "its use";
    case GivenTruth::none:
      break;
  }
  return "nothing";
}

}  // namespace cellarer::bench
