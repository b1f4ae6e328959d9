// SPDX-License-Identifier: MIT
#pragma once
#include "model/life/running_set.hpp"

namespace cellarer::life {

/// One side's forecast from its last stint. `learning` holds what the household's ended sets have taught, as it stood
/// when the last of them ended; it drifts on from there to when the set goes in that is asked about.
/// `past` are all stints of the side, the last one being the set that is in. `running`: that set as it was followed
/// before, carried on; null: it is followed anew.
SideForecast side_forecast(const Household& household, Side side, Instant as_of, const Learning& learning,
                           const std::optional<Instant>& last_lesson, const std::vector<Stint>& past,
                           LoadTables& tables, Chart chart, RunningSet* running);

}  // namespace cellarer::life
