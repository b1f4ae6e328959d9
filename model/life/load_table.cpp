// SPDX-License-Identifier: MIT
#include "model/life/load_table.hpp"

#include <algorithm>

#include "model/duty/set_voltage.hpp"
#include "model/life/stretched_depth.hpp"

namespace cellarer::life {

namespace {

constexpr double step = 1.0 / (LoadTable::points - 1);

/// Where on equal steps a value lies, held inside.
struct Position {
  std::size_t index;
  double share;
};

Position position(double steps_from_start, std::size_t count) {
  const double held = std::clamp(steps_from_start, 0.0, static_cast<double>(count - 1));
  const auto index = std::min(static_cast<std::size_t>(held), count - 2);
  return {index, held - static_cast<double>(index)};
}

double between(double low, double high, double share) { return low + share * (high - low); }

}  // namespace

LoadTable::LoadTable(const duty::Stimulator& unit, const cell::Curve& curve, const duty::BreathLoad& pacing) {
  for (std::size_t level = 0; level < levels; ++level) {
    const double use = lowest_use + level_step * static_cast<double>(level);
    // Past the place where the converter can no longer be fed there is no voltage; well below cut-off says the same,
    // and lies near enough for straight lines.
    const double lowest_V = 0.6 * unit.cutoff_V;
    for (std::size_t i = 0; i < points; ++i) {
      const double volts = duty::pacing_V(unit, curve, pacing, use, static_cast<double>(i) * step);
      pacing_V_[level][i] = std::max(volts, lowest_V);
    }
  }
  for (std::size_t stop = 0; stop < stops; ++stop) {
    cutoff_depth_[stop] = duty::cutoff_depth(unit, curve, pacing, lowest_use + stop_step * static_cast<double>(stop));
  }
  const double ends = cutoff_depth(1);
  for (std::size_t i = 1; i < points; ++i) {
    const double from = static_cast<double>(i - 1) * step, to = static_cast<double>(i) * step;
    // Relative use moves the voltage by millivolts: the factor at the profile's own current is near enough.
    const double factor = duty::mean_converter_factor(unit, curve, pacing, 1.0, 0.5 * (from + to));
    way_[i] = way_[i - 1] + (to - from) / factor;
    stretch_[i] = stretch_[i - 1] + (life::stretch(to, ends) - life::stretch(from, ends)) / factor;
  }
}

double LoadTable::pacing_V(double curve_depth, double use) const {
  const auto depth = position(curve_depth / step, points);
  const auto level = position((use - lowest_use) / level_step, levels);
  const auto& below = pacing_V_[level.index];
  const auto& above = pacing_V_[level.index + 1];
  return between(between(below[depth.index], below[depth.index + 1], depth.share),
                 between(above[depth.index], above[depth.index + 1], depth.share), level.share);
}

double LoadTable::cutoff_depth(double use) const {
  const auto stop = position((use - lowest_use) / stop_step, stops);
  return between(cutoff_depth_[stop.index], cutoff_depth_[stop.index + 1], stop.share);
}

std::shared_ptr<const LoadTable> LoadTables::get(const duty::Stimulator& unit, const cell::Curve& curve,
                                                 const duty::BreathLoad& pacing) {
  const auto known = std::find_if(entries_.begin(), entries_.end(), [&](const Entry& entry) {
    return entry.unit == &unit && entry.curve == &curve && entry.pacing.burst_mA == pacing.burst_mA &&
           entry.pacing.rest_mA == pacing.rest_mA && entry.pacing.fraction == pacing.fraction;
  });
  if (known != entries_.end()) return known->table;
  entries_.push_back({&unit, &curve, pacing, std::make_shared<const LoadTable>(unit, curve, pacing)});
  return entries_.back().table;
}

}  // namespace cellarer::life
