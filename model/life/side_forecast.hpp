// SPDX-License-Identifier: MIT
#pragma once
#include "model/life/set_story.hpp"

namespace cellarer::life {

/// One side's forecast from its last stint. `learning` holds what the household's ended sets have taught.
/// `past` are all stints of the side, the last one being the set that is in.
SideForecast side_forecast(const Household& household, Side side, Instant as_of, const Learning& learning,
                           const std::vector<Stint>& past, LoadTables& tables, Chart chart);

}  // namespace cellarer::life
