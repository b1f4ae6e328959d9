// SPDX-License-Identifier: MIT
#pragma once

namespace cellarer::life {

/// How well a set's readings fitted what was expected of them, for the scale of the gauge's noise: a number's place in
/// its predictive distribution is a standard normal z where the noise is as expected; of a step only the interval
/// a < z < b is known. With the noise's log variance v, by Louis's identity (Louis 1982, J. R. Stat. Soc. B 44, 226):
///
///     score          d log p / dv = (E[z^2 | a < z < b] - 1) / 2
///     information    1/2 - Var(z^2 | a < z < b) / 4          a number: 1/2; nothing known: 0 on average
///
/// so that a step counts for the part of a number that it tells: 0.86 where steps are as wide as the prediction's
/// standard deviation, 0.59 where twice, 0.22 where five times.
struct GaugeFit {
  double excess = 0;    ///< sum of E[z^2] - 1
  double readings = 0;  ///< that many numbers would tell as much; may come out below nought for a few odd steps

  /// `from` <= `to`: where the ends of the reading lie in its predictive distribution, in [0, 1]; equal for a number.
  /// Places nearer to the ends than 1 in 1 000 count as that, so that one mistake does not make a gauge noisy.
  void add(double from, double to);
};

}  // namespace cellarer::life
