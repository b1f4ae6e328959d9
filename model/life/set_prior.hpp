// SPDX-License-Identifier: MIT
#pragma once
#include <Eigen/Core>
#include <cmath>
#include <vector>

#include "model/life/gauge_fit.hpp"

namespace cellarer::life {

/// What is believed of a set before its first reading, and after its last: three numbers, together normal.
///
///   use     log of relative use: 0.05 draws 5 % more than the profile says
///   bias    [points]  what the gauge of this unit's channel shows too much
///   offset  [V]       of this set's voltage from its type's curve in mid-life
enum SetUnknown : int { row_use, row_bias, row_offset, row_count };

struct SetBelief {
  Eigen::Vector3d mean = Eigen::Vector3d::Zero();
  Eigen::Matrix3d cov = Eigen::Vector3d(0.1 * 0.1, 3 * 3, 0.01 * 0.01).asDiagonal();

  double sd(SetUnknown unknown) const { return std::sqrt(cov(unknown, unknown)); }
};

/// How a later phase of a set (another amplitude, another unit) differs from its first one, in what has been learned.
struct PhaseShift {
  double log_use = 0;                 ///< mean of log use there less that of the first phase
  double log_use_sd = 0;              ///< how uncertain that difference is
  double bias_mean = 0, bias_sd = 0;  ///< [points] of the unit there; read only where it is another unit
};

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
