// SPDX-License-Identifier: MIT
#pragma once
#include "model/review/household_review.hpp"

namespace cellarer::review {

/// When changes count as always too early. Assumptions: under the default policy sets come out with a fifth to a
/// quarter of their charge left (README, field trial), so 0.6 used is far from anything the forecast asks for.
struct EarlyLimits {
  int at_least = 6;        ///< planned changes whose depth is known
  int at_most = 12;        ///< the newest so many are looked at
  double used = 0.60;      ///< share of the charge: less is too early
  double depth_sd = 0.06;  ///< of one depth seen, at least
  double sure_sd = 2.6;    ///< standard errors below that share, as of a chance of 1 in 200
};

/// Planned changes of a household, both sides, that come long before they need to: the mean share used of the newest
/// ones lies surely below the limit. None where there is no such finding now. Its causes are those of
/// early_causes.hpp; none is named unless it is as probable as a cause of use has to be. A household that changes for
/// reasons of its own (visits, a trip) is meant to be asked, not told.
std::optional<Finding> changes_too_early(const HouseholdHistory& history, const ReviewOptions& options,
                                         const EarlyLimits& limits = {});

}  // namespace cellarer::review
