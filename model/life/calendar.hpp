// SPDX-License-Identifier: MIT
#pragma once
#include "model/life/changing_times.hpp"
#include "model/life/forecast.hpp"

/// The household's own calendar: changing times and zone at home, and those of the place during a stay away. Of stays
/// that overlap, the one that began last counts.
namespace cellarer::life {

/// By whose wall clock the household lives at a moment.
Zone zone_at(const Household& household, Instant at);

/// As changing_times() of zone and times of day, with those of the stays in their time.
std::vector<Instant> changing_times(const Household& household, Instant from, Instant to);

/// As start_of_tonight() of zone and times of day, by the wall clock of the place.
Instant start_of_tonight(const Household& household, Instant at);

}  // namespace cellarer::life
