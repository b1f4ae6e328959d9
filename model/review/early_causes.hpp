// SPDX-License-Identifier: MIT
#pragma once
#include <array>
#include <vector>

#include "model/review/finding.hpp"
#include "model/review/household_review.hpp"

namespace cellarer::review {

/// Why sets come out with much of their charge left. What was used of a set has two parts:
///
///     ln(share used) = ln(share that the record lets expect by then) + log ratio of its use
///
///   timing     by the record too they come out early, and use is what it naturally is: the home's choice
///   settings, cells, unit, habit
///              by the record they come out when the forecast asks for it, and less is used than the record says
///   gauge      the same, as far as the sets feel a gauge that shows too much: they are not early at all
///
/// The second part is weighed as in household_review.hpp, with the checks that would show each cause; the first by how
/// probable such a share is for a home that changes as it likes, and for one that goes by the forecast.
struct EarlyCauses {
  std::array<double, cause_count> causes{};  ///< probability of each; by Cause
  std::vector<NextStep> next;                ///< what would tell them apart, most first
};

EarlyCauses causes_of_early_changes(const std::vector<SetRecord>& sets, const HouseholdHistory& history,
                                    const ReviewOptions& options);

}  // namespace cellarer::review
