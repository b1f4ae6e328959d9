// SPDX-License-Identifier: MIT
#pragma once
#include <Eigen/Core>
#include <cmath>
#include <vector>

#include "model/cell/profile.hpp"
#include "model/life/gauge_fit.hpp"

namespace cellarer::life {

/// What is believed of a set before its first reading, and after its last: five numbers, together normal.
///
///   use       log of relative use: 0.05 draws 5 % more than the profile says
///   bias      [points]  what the gauge of this unit's channel shows too much
///   offset    [V]       of this set's voltage from its type's curve in mid-life
///   tilt      [V]       by how much more it lies above that curve at the end of its life than when fresh
///   capacity  log of lambda, the charge to cut-off of this set over its type's (stretched_depth.hpp); of a dud nothing
enum SetUnknown : int { row_use, row_bias, row_offset, row_tilt, row_capacity, row_count };

struct SetBelief {
  using Vector = Eigen::Matrix<double, row_count, 1>;
  using Matrix = Eigen::Matrix<double, row_count, row_count>;
  Vector mean = Vector::Zero();
  Matrix cov = Vector(0.1 * 0.1, 3 * 3, 0.01 * 0.01, 0.02 * 0.02, 0.02 * 0.02).asDiagonal();

  double sd(SetUnknown unknown) const { return std::sqrt(cov(unknown, unknown)); }
};

/// How a later phase of a set (another amplitude, another unit) differs from its first one, in what has been learned.
struct PhaseShift {
  double log_use = 0;                 ///< mean of log use there less that of the first phase
  double log_use_sd = 0;              ///< how uncertain that difference is
  double bias_mean = 0, bias_sd = 0;  ///< [points] of the unit there; read only where it is another unit
};

/// How far a set's capacity may lie from what its type's curve and its storage say (the set's own, its lot's, its
/// brand's where that is not known, and what the curve is off where no reading shows it), and the type's curve from the
/// truth as far as its sets can show it: standard deviations of log lambda. There are no measured intermittent
/// discharges: both carry a tenth more width.
double own_capacity_log_sd(const cell::Spread& spread, int cells_in_series, double stored_log_sd);
double type_capacity_log_sd(const cell::Spread& spread);

struct SetPrior {
  SetBelief belief;
  double gauge_noise_scale = 1;          ///< of this channel's gauge noise over its profile's
  std::vector<PhaseShift> phase_shifts;  ///< one a phase; empty: all phases are alike
};

/// What a set taught.
struct SetLesson {
  SetBelief belief;
  GaugeFit gauge;
};

}  // namespace cellarer::life
