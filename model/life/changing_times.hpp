// SPDX-License-Identifier: MIT
#pragma once
#include <chrono>
#include <vector>

#include "model/quantities/time.hpp"

namespace cellarer::life {

/// The household's changing times as moments: each wall-clock time on each local day, in order, from the last
/// one at or before `from` to the first one at or after `to`. A wall-clock time that daylight saving skips is
/// the moment of the jump; one that it repeats is its first occurrence (the earlier, safer one).
/// Precondition: at least one time of day; `from` <= `to`.
std::vector<Instant> changing_times(Zone zone, const std::vector<std::chrono::minutes>& times_of_day, Instant from,
                                    Instant to);

/// The small hours that "tonight" means at a moment: 03:00 of this local day before 06:00, otherwise 03:00 of
/// the next day. The night that holds this moment is tonight: at 20:40 the one that is coming, at 03:10 the one
/// that is running, until people get up.
Instant small_hours_of_tonight(Zone zone, Instant at);

/// When tonight begins: the start of the night that holds those small hours, but never of one that is over.
Instant start_of_tonight(Zone zone, const std::vector<std::chrono::minutes>& times_of_day, Instant at);

}  // namespace cellarer::life
