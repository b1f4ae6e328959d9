// SPDX-License-Identifier: MIT
#pragma once

namespace cellarer::life {

/// How well a set's readings fitted what was expected of them, for the scale of the gauge's noise: a number's place in
/// its predictive distribution is a standard normal z where the noise is as expected; of a step only the interval
/// a < z < b is known.
///
/// All readings of a set count, those too that are not believed: were the odd ones left out, those that remain would
/// make any gauge seem quieter than it is, and then more of them odd. So that a mistake weighs no more than a reading
/// that one in twenty exceeds, what is looked at is w = min(z^2, c^2) with c = 1.96 (Huber 1981, Robust
/// Statistics, 5.2, "proposal 2"); sets with two readings too high, as mistakes bring about, teach nothing at all
/// (lessons.cpp). With the log variance v of the prediction,
///
///     excess       (E[w | a < z < b] - E[w]) * 2 / k,  k = Cov(w, z^2)    its mean moves by dv where that does
///     readings     1 - Cov(w, z^2 | a < z < b) / k                        a number: 1; nothing known: 0
///
/// (Louis 1982, J. R. Stat. Soc. B 44, 226: what is observed tells what the complete data would, less their covariance
/// within it), so that a step counts for the part of a number that it tells: 0.85 where steps are as wide as the
/// prediction's standard deviation, 0.58 where twice, 0.21 where five times.
struct GaugeFit {
  double excess = 0;
  double readings = 0;  ///< that many numbers would tell as much; may come out below nought for a few odd steps

  /// `from` <= `to`: where the ends of the reading lie in its predictive distribution, in [0, 1]; equal for a number.
  void add(double from, double to);
};

}  // namespace cellarer::life
