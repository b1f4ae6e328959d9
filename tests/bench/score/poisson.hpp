// SPDX-License-Identifier: MIT
#pragma once
#include <cstdint>

namespace cellarer::bench {

/// The exact 95 % upper bound of the mean of a Poisson count of which `counted` were seen: the mean at which so few, or
/// fewer, have a probability of 5 %. It is half the chi-squared quantile of 2 (n + 1) degrees of freedom, which is
/// the inverse of the regularised lower gamma function of n + 1. None seen: 3.00.
double poisson_upper_bound(std::uint64_t counted);

}  // namespace cellarer::bench
