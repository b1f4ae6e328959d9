// SPDX-License-Identifier: MIT
#pragma once
#include <cmath>

#include "model/life/forecast.hpp"

/// A household for tests of `model/life`: a plain curve, a plain unit, one changing time. Nothing here is an expected
/// value; what tests compare with stands in them.
namespace cellarer::testing {

using namespace std::chrono_literals;

/// Rest voltages of an alkaline cell by remaining charge as Texas Instruments SLVA194 gives them
/// (1.59, 1.38, 1.30, 1.23, 1.10 V at 100, 80, 50, 20, 0 %), then a fall to 0.75 V over the last twentieth so that a
/// cut-off is met.
inline cell::Profile plain_cell(const char* id = "lr6-plain") {
  constexpr double depth[] = {0, 0.2, 0.5, 0.8, 0.95, 1.0}, volts[] = {1.59, 1.38, 1.30, 1.23, 1.10, 0.75};
  cell::Curve::Table open{}, slow{}, fast{};
  for (std::size_t i = 0; i < cell::Curve::points; ++i) {
    const double x = static_cast<double>(i) / (cell::Curve::points - 1);
    std::size_t k = 0;
    while (k < 4 && x > depth[k + 1]) ++k;
    open[i] = volts[k] + (volts[k + 1] - volts[k]) * (x - depth[k]) / (depth[k + 1] - depth[k]);
    slow[i] = 0.2 + 0.4 * x * x;
    fast[i] = 0.2 + 0.1 * x;
  }
  return {id, "LR6", cell::Curve(2800, open, slow, fast), {}, true, ""};
}

/// A linear regulator with a percent gauge, about 12 days a set when paced ten and a half hours a night.
inline duty::Stimulator plain_unit() {
  duty::Stimulator unit;
  unit.id = "plain";
  unit.basis = "invented";
  unit.left = {18, 52, 4.0, 1.0, 2.2, 0.6, 0.02};
  unit.right = unit.left;
  unit.gauge.volts_at_percent = {{100, 3.08}, {75, 2.66}, {50, 2.54}, {25, 2.40}, {0, 2.10}};
  unit.warning_percent = 12;
  return unit;
}

struct World {
  life::Household household;
  Instant start;  ///< both sides get fresh cells at this moment, a changing time

  World() {
    household.zone = date::locate_zone("Europe/Oslo");
    household.changing_times = {21h + 30min};
    start = date::sys_days(date::year(2026) / 1 / 5) + 20h + 30min;
    household.units.push_back({"u-1", plain_unit(), start - 24h * 400});
    household.cell_profiles["lr6-plain"] = plain_cell();
    household.unknown_cells = plain_cell("lr6-family");
    household.unknown_cells->spread.brand_log_sd = 0.065;
    duty::PacedSpan nights{{true, true, true, true, true, true, true}, 21h, 7h + 30min};
    for (const auto side : both_sides) {
      household.settings.push_back({start - 24h * 400, side, 12, 0.28, 4.0, {nights}});
      change(side, start);
    }
  }

  life::CellChange& change(Side side, Instant at, life::ChangeReason reason = life::ChangeReason::planned) {
    life::CellChange change;
    change.at = change.recorded_at = at;
    change.side = side;
    change.reason = reason;
    change.cells.profile = "lr6-plain";
    return household.cell_changes.emplace_back(change);
  }

  template <class Value>
  life::Reading& read(Side side, Instant at, Value value, life::Condition condition = life::Condition::pacing) {
    return household.readings.emplace_back(life::Reading{at, at, side, condition, value});
  }

  life::SideForecast left(Instant as_of) const { return life::forecast(household, as_of).side(Side::left); }
};

}  // namespace cellarer::testing
