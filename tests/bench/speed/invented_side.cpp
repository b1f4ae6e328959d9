// SPDX-License-Identifier: MIT
#include "tests/bench/speed/invented_side.hpp"

#include <cmath>

#include <date/tz.h>

namespace cellarer::bench {

namespace {

using std::chrono::seconds;

/// The gauge as an empty house would show it: of the same set without readings, at that moment.
double expected_percent(const std::vector<life::GaugePoint>& gauge, Instant at) {
  std::size_t after = 1;
  while (after + 1 < gauge.size() && gauge[after].at < at) ++after;
  const auto &before = gauge[after - 1], &next = gauge[after];
  const double share =
      static_cast<double>((at - before.at).count()) / static_cast<double>((next.at - before.at).count());
  return before.p50 + share * (next.p50 - before.p50);
}

}  // namespace

InventedSide invented_side(const duty::Stimulator& unit, const cell::Profile& cells, const SideSize& size) {
  InventedSide side;
  side.now = Instant(std::chrono::sys_days(std::chrono::year(2026) / 3 / 20)) + std::chrono::hours(19);
  side.cells_in = side.now - seconds(std::lround(size.days_in * 86400));
  auto& household = side.household;
  household.zone = date::locate_zone("Europe/Oslo");
  household.changing_times = {std::chrono::minutes(21 * 60 + 30)};
  household.units.push_back({"u-1", unit, side.cells_in});
  duty::Settings settings;
  settings.from = side.cells_in;
  settings.amplitude = size.amplitude;
  settings.inspiratory_fraction = 0.28;
  if (size.hours_a_night < 24) {
    const std::chrono::minutes begins(22 * 60), lasts(std::lround(size.hours_a_night * 60));
    settings.paced.push_back({{true, true, true, true, true, true, true}, begins, (begins + lasts) % (24 * 60)});
  }
  household.settings.push_back(settings);
  household.cell_profiles[cells.id] = cells;
  life::CellChange change;
  change.at = change.recorded_at = side.cells_in;
  change.cells.profile = cells.id;
  household.cell_changes.push_back(change);
  const auto gauge = life::forecast(household, side.now).side(Side::left).gauge;
  for (int i = 1; i <= size.readings; ++i) {
    life::Reading reading;
    reading.at = reading.recorded_at = side.cells_in + (side.now - side.cells_in) * i / (size.readings + 1);
    const double off = unit.gauge.noise_points * 0.5 * std::sin(2.4 * i);
    reading.value = life::PercentShown{std::round(expected_percent(gauge, reading.at) + off)};
    household.readings.push_back(reading);
  }
  return side;
}

}  // namespace cellarer::bench
