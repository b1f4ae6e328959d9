// SPDX-License-Identifier: MIT
#pragma once

namespace cellarer {

/// Goes with every phrase and date of a forecast, whoever reads it.
inline constexpr const char* disclaimer = "An estimate. The unit's own alarm comes first: act on it at once.";

}  // namespace cellarer
