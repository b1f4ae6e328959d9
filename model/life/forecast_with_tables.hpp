// SPDX-License-Identifier: MIT
#pragma once
#include "model/life/forecast.hpp"
#include "model/life/learned.hpp"
#include "model/life/load_table.hpp"

namespace cellarer::life {

/// The forecast with tables that are kept from one to the next: the same answer, sooner.
HouseholdForecast forecast(const Household& household, Instant as_of, LoadTables& tables);

/// The same with what was learned of this household before, which is carried on: sooner by all of its ended sets.
HouseholdForecast forecast(const Household& household, Instant as_of, LoadTables& tables, Learned& learned,
                           Chart chart = Chart::wanted);

}  // namespace cellarer::life
