// SPDX-License-Identifier: MIT
#pragma once
#include <functional>

namespace cellarer::bench {

/// The continuous ranked probability score of a forecast distribution F when x came true, in the unit of x:
///
///     CRPS = integral of (F(t) - [t >= x])^2 dt
///
/// over [from, to], outside of which F is taken as nought and one. Simpson's rule on either side of the jump at x with
/// `intervals` of equal width in all (Gneiting and Raftery, "Strictly proper scoring rules, prediction, and
/// estimation", 2007). Nought is perfect; of a point forecast it is the absolute error.
/// Precondition: from < to, intervals >= 4.
double crps(const std::function<double(double)>& below, double came_true, double from, double to, int intervals);

}  // namespace cellarer::bench
