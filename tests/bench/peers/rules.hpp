// SPDX-License-Identifier: MIT
#pragma once
#include "tests/bench/forecaster.hpp"

/// The rules that people follow without a forecast.
namespace cellarer::bench {

/// Changes every side after that many whole days, whatever its readings.
MakeForecaster every_n_days(int days);

/// Changes when the newest reading of these cells is at the gauge's lowest step, or below (of a percent gauge: at most
/// 20 %, its lowest fifth).
MakeForecaster at_the_lowest_step();

/// Never advises a change: the household waits for the unit's own warning.
MakeForecaster at_the_warning();

}  // namespace cellarer::bench
