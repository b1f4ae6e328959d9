// SPDX-License-Identifier: MIT
#pragma once
#include "model/cell/fit.hpp"

/// What a fit is worth: usable or not, and what a reader has to know of it.
namespace cellarer::cell {

/// Sets `usable`, `why_not` and `cautions` of a summary that is otherwise complete.
///
/// Not usable: a rechargeable cell; a cell whose form is not known (not alkaline, not one cell of 1.5 V); no
/// point in the fit; a search that did not converge; residuals above `usable_rms`; or a fit that leaves more
/// than 0.25 of the logarithm of the hours open at 50 mA to 0.9 V.
void judge(const PublishedCell& cell, const FamilyPrior& family, const FitOptions& options, FitSummary& summary);

}  // namespace cellarer::cell
