// SPDX-License-Identifier: MIT
#include "model/life/forecast_with_tables.hpp"

#include <cassert>

#include "model/life/calendar.hpp"
#include "model/life/side_forecast.hpp"

namespace cellarer::life {

HouseholdForecast forecast(const Household& household, Instant as_of) {
  LoadTables tables;
  return forecast(household, as_of, tables);
}

HouseholdForecast forecast(const Household& household, Instant as_of, LoadTables& tables) {
  Learned learned;
  return forecast(household, as_of, tables, learned);
}

HouseholdForecast forecast(const Household& household, Instant as_of, LoadTables& tables, Learned& learned,
                           Chart chart) {
  assert(household.zone != nullptr && !household.changing_times.empty());
  HouseholdForecast result;
  result.as_of = as_of;
  const auto times = changing_times(household, as_of, as_of + std::chrono::hours(1));
  result.next_changing_time = times.front() == as_of ? as_of : times[1];
  const std::array<std::vector<Stint>, 2> sides{stints(household, Side::left, as_of),
                                                stints(household, Side::right, as_of)};
  const auto& learning = learned.up_to(household, sides, tables);
  for (const auto side : both_sides) {
    const std::size_t index = side == Side::left ? 0 : 1;
    result.sides[index] = side_forecast(household, side, as_of, learning, learned.last_lesson(), sides[index], tables,
                                        chart, learned.running(side));
  }
  return result;
}

}  // namespace cellarer::life
