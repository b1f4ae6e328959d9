// SPDX-License-Identifier: MIT
#pragma once
#include "tests/bench/forecaster.hpp"

namespace cellarer::bench {

/// Knows when cut-off will come and changes on the last evening before it: what one changing time a day leaves no
/// forecaster to save, half a day's charge of each set on average.
MakeForecaster oracle();

}  // namespace cellarer::bench
