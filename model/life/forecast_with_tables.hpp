// SPDX-License-Identifier: MIT
#pragma once
#include "model/life/forecast.hpp"
#include "model/life/load_table.hpp"

namespace cellarer::life {

/// The forecast with tables that are kept from one to the next: the same answer, sooner.
HouseholdForecast forecast(const Household& household, Instant as_of, LoadTables& tables);

}  // namespace cellarer::life
