// SPDX-License-Identifier: MIT
#pragma once
#include <vector>

#include "model/review/finding.hpp"

namespace cellarer::review {

/// One story as far as an experiment feels it.
struct Outcome {
  Cause cause = Cause::settings;
  double weight = 0;  ///< its probability among the stories
  Size excess;        ///< of log use (of changes that come too early: of ln share used) that it puts down to its cause
};

Outcome outcome_of(const Hypothesis& story, const Sums& sums, double weight);

/// Every step with the information it is expected to give about the cause, most first.
///
///     I(C; X) = sum over causes of P(c) integral f_c(x) log2(f_c(x) / f(x)) dx      [bits]
///
///   x    what the step shows: the excess that remains (swap, other lot, meter) or that is seen directly (bench,
///        settings, hours); under a cause that the step takes away, or does not look at, nought
///   f_c  a mixture of normal densities over the stories of that cause, f over all
///
/// By the trapezium rule, to 1e-3 bits. Lindley, Ann. Math. Stat. 27 (1956), 986. Steps that tell less than 0.02 bits
/// are left out; none left means that no step would tell.
std::vector<NextStep> next_steps(const std::vector<Outcome>& stories, const Spreads& spreads);

}  // namespace cellarer::review
